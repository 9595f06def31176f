"""Which shapes and changes of a lesson are hard: the order in which they are learned, and what is drilled."""

from __future__ import annotations

from fretloom.performance.events import Timeline
from fretloom.performance.hands.fingering import hand_of_settings, neck_of_settings
from fretloom.practising.elements import shape_techniques
from fretloom.practising.pieces import Repertory
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.playability.effort import effort
from fretloom.trade.playability.moving.changes import change
from fretloom.trade.playability.moving.skills import level_of
from fretloom.trade.playability.shape import Fretted
from fretloom.values import frozen

#: Holding a shape of this level of effort, 1 to 5, tires the hand, like a whole barre.
TIRING = 4
#: So many changes are drilled; one of this level needs no drill beside another.
DRILLS, EASIEST = 2, 1


@frozen(kw_only=True)
class MetChange:
    """A change that the song makes.

    `level` is 1 to 5 and the order that of the report on hands (`performance.hands.hardest`); `time` in seconds
    is that of the player of the path.
    """

    before: str
    after: str
    level: int
    time: float

    @property
    def pair(self) -> frozenset[str]:
        """The two shapes, whichever comes first."""
        return frozenset((self.before, self.after))


class Hardness:
    """Knows what is hard in one lesson."""

    def __init__(self, pieces: Repertory) -> None:
        self._timeline: Timeline = pieces.reading.timeline
        self._neck = neck_of_settings(self._timeline.settings)
        self._hand = hand_of_settings(self._timeline.settings)
        self._tempi = pieces.tempi
        self._points: dict[str, tuple[float, int]] = {}
        self.changes = self._changes()
        #: The shapes that tire the hand, as things that pieces ask for.
        self.tires = frozenset(
            one
            for voicing in self._timeline.voicings.values()
            if self.tiring(voicing)
            for one in pieces.things.shape(voicing)
            if one.kind == "shape"
        )

    def points(self, voicing: Voicing) -> float:
        """Return how hard a shape is to hold: more is harder."""
        return self._effort(voicing)[0]

    def tiring(self, voicing: Voicing) -> bool:
        """Whether a shape tires the hand: a whole barre, or what is very hard to hold."""
        return self._effort(voicing)[1] >= TIRING or "barre" in shape_techniques(voicing)

    def _effort(self, voicing: Voicing) -> tuple[float, int]:
        if voicing.name not in self._points:
            found = (0.0, 1)
            if voicing.fingers:
                made = effort(self._neck, self._hand, Fretted(voicing.frets, voicing.fingers))
                found = (made.points, made.level)
            self._points[voicing.name] = found
        return self._points[voicing.name]

    def taken(self) -> tuple[Voicing, ...]:
        """Return the voicings that are played and have a sound, in order of appearance."""
        played = {
            taken.voicing.name: taken.voicing
            for _, bar in self._timeline.distinct_bars()
            for taken in bar.voicings
        }
        return tuple(one for one in played.values() if any(fret is not None for fret in one.frets))

    def _changes(self) -> tuple[MetChange, ...]:
        """Return the changes of the song, hardest first."""
        met: dict[tuple[str, str], MetChange] = {}
        held: Voicing | None = None
        for played in self._timeline.bars:
            for taken in played.bar.voicings:
                before, held = held, taken.voicing
                if before is None or before is held or (before.name, held.name) in met:
                    continue
                made = self._tempi.change(before, held)
                if made is None or made.time <= 0:
                    continue
                one, other = (
                    Fretted(before.frets, before.fingers),
                    Fretted(held.frets, held.fingers),
                )
                met[before.name, held.name] = MetChange(
                    before=before.name,
                    after=held.name,
                    level=level_of(change(self._neck, one, other).time),
                    time=made.time,
                )
        return tuple(
            sorted(met.values(), key=lambda one: (-one.level, -one.time, one.before, one.after))
        )

    def drilled(self) -> tuple[MetChange, ...]:
        """Return the two hardest changes, each pair of shapes once; only one if the other is easy."""
        found: dict[frozenset[str], MetChange] = {}
        for one in self.changes:
            if not found or one.level > EASIEST:
                found.setdefault(one.pair, one)
        return tuple(found.values())[:DRILLS]
