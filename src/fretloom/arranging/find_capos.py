"""Capo positions and the shapes that go with them, ranked by how hard the whole song is with them."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise

from attrs import evolve

from fretloom.arranging.new_key import with_shapes_of
from fretloom.errors import FretloomError, SymbolError
from fretloom.notation.model.lesson import Lesson, VoicingBlock
from fretloom.notation.model.margin import Unread
from fretloom.notation.model.voicing import VoicingEntry
from fretloom.performance.events import Settings, Timeline
from fretloom.performance.hands.fingering import hand_of_settings, neck_of_settings
from fretloom.performance.hands.holds import HandWalk
from fretloom.performance.reading import Reading, read_through
from fretloom.trade.guitar.common_shapes import open_shape
from fretloom.trade.guitar.voicing import Voicing, split_name
from fretloom.trade.harmony.fit import fit
from fretloom.trade.harmony.symbol import parse_symbol
from fretloom.trade.music.key import Key
from fretloom.trade.playability.changes import change, level_of
from fretloom.trade.playability.effort import Effort, effort
from fretloom.trade.playability.shape import Fretted
from fretloom.values import frozen

#: Capos tried: beyond, the neck gets short and thin in sound (common practice, no source).
HIGHEST = 7
#: What a second of changing weighs against the points of holding a voicing.
_SECOND = 2.5
#: Points for a voicing that no hand holds.
_UNHELD = 10.0


@frozen
class CapoChoice:
    """A capo, the key the hand then plays in, and what the song is like with it.

    Args:
        capo: its fret, 0 for none. plays: the key of the shapes; sounds: the sounding key.
        points: difficulty for each bar, holding and changing together: lower is easier.
        barres: voicings with a barre of the index finger over more than three strings, by name.
        hardest: the hardest change, with its level 1 to 5; empty names if nothing changes.
        voicings: the new voicings, fingers and all.
        lesson: the lesson written with them. remarks: what its teacher should look at.
        now: it is as the lesson stands.
    """

    capo: int
    plays: Key
    sounds: Key
    points: float
    barres: tuple[str, ...]
    hardest: tuple[str, str, int]
    voicings: tuple[Voicing, ...]
    lesson: Lesson
    remarks: tuple[str, ...] = ()
    now: bool = False


def find_capos(reading: Reading, sounds: Key | None = None) -> tuple[CapoChoice, ...]:
    """Return the choices of capo and shapes that give the sounding key, easiest first.

    Args:
        reading: of a lesson without errors that says its key.
        sounds: the key to reach; without it the lesson sounds as before.

    Raises:
        FretloomError: the lesson does not say its key, is based on another, or has a partial capo.
    """
    lesson, timeline = reading.lesson, reading.timeline
    settings = timeline.settings
    if settings.plays is None or settings.sounds is None:
        raise FretloomError("the lesson does not say its key: write `plays in` in its heading")
    goal = sounds or settings.sounds
    choices = []
    for fret in range(HIGHEST + 1):
        plays = goal.transposed(-fret)
        same = settings.capo.fret == fret and plays.tonic == settings.plays.tonic
        if same:
            choices.append(_choice(lesson, timeline, fret, plays, goal, (), now=True))
            continue
        moved = with_shapes_of(reading, plays, fret)
        opened = _with_open_shapes(moved.lesson, settings)
        found = read_through(opened).timeline
        choices.append(_choice(opened, found, fret, plays, goal, moved.remarks))
    return tuple(sorted(choices, key=lambda one: (round(one.points, 6), one.capo)))


def _with_open_shapes(lesson: Lesson, settings: Settings) -> Lesson:
    """Take the common open shape of a chord where there is one, instead of a barre moved along.

    A voicing with a tag (`G.barre`) was chosen for its shape and keeps it.
    """

    def opened(line: VoicingEntry | Unread) -> VoicingEntry | Unread:
        if not isinstance(line, VoicingEntry) or not line.frets or 0 in line.frets:
            return line
        shape = _open_shape(line.name, settings)
        if shape is None:
            return line
        return VoicingEntry(name=line.name, frets=shape, margin=line.margin)

    blocks = tuple(
        evolve(block, lines=tuple(opened(line) for line in block.lines))
        if isinstance(block, VoicingBlock)
        else block
        for block in lesson.blocks
    )
    return evolve(lesson, blocks=blocks)


def _open_shape(name: str, settings: Settings) -> tuple[int | None, ...] | None:
    """Return the open shape of a chord by its name, if it sounds the chord on this tuning."""
    symbol_text, tag = split_name(name)
    if tag or not symbol_text or settings.tuning.strings != 6:
        return None
    try:
        symbol = parse_symbol(symbol_text, settings.names)
    except SymbolError:
        return None
    shape = open_shape(symbol.canonical) if symbol.quality is not None else None
    if shape is None:
        return None
    notes = [
        settings.tuning.open_pitch(6 - at).midi + fret
        for at, fret in enumerate(shape)
        if fret is not None
    ]
    return shape if fit(symbol, notes).accepted else None


def _choice(
    lesson: Lesson,
    timeline: Timeline,
    fret: int,
    plays: Key,
    sounds: Key,
    remarks: tuple[str, ...],
    now: bool = False,
) -> CapoChoice:
    labour = _Labour(timeline)
    hardest, level = labour.hardest()
    return CapoChoice(
        fret,
        plays,
        sounds,
        labour.points() / max(1, len(timeline.bars)),
        tuple(name for name, one in labour.efforts.items() if _is_barre(one)),
        (*hardest, level),
        tuple(labour.used.values()),
        lesson,
        remarks,
        now,
    )


class _Labour:
    """What a timeline asks of the fretting hand: voicings held and changes made, with their counts."""

    def __init__(self, timeline: Timeline) -> None:
        neck, hand = neck_of_settings(timeline.settings), hand_of_settings(timeline.settings)
        voicings = [moment.hold.voicing for moment in HandWalk(timeline, neck, hand).moments()]
        names = [voicing.name for voicing in voicings]
        self.held = Counter(names)
        self.made = Counter(pair for pair in pairwise(names) if pair[0] != pair[1])
        self.used = {voicing.name: voicing for voicing in voicings}
        self.efforts = {
            name: effort(neck, hand, _fretted(one))
            for name, one in self.used.items()
            if one.fingers
        }
        self.times = {
            (one, other): change(neck, _fretted(self.used[one]), _fretted(self.used[other])).time
            for one, other in self.made
            if one in self.efforts and other in self.efforts
        }

    def points(self) -> float:
        """The difficulty of the whole song."""
        holding = sum(count * self._points_of(name) for name, count in self.held.items())
        return holding + _SECOND * sum(self.made[pair] * time for pair, time in self.times.items())

    def _points_of(self, name: str) -> float:
        if name in self.efforts:
            return self.efforts[name].points
        return _UNHELD if any(self.used[name].frets) else 0.0

    def hardest(self) -> tuple[tuple[str, str], int]:
        """The change that takes longest and its level, empty names and 0 if there is none."""
        if not self.times:
            return ("", ""), 0
        pair = max(self.times, key=lambda one: (self.times[one], one))
        return pair, level_of(self.times[pair])


def _fretted(voicing: Voicing) -> Fretted:
    return Fretted(voicing.frets, voicing.fingers)


def _is_barre(held: Effort) -> bool:
    return any(finger == "1" and width > 3 for finger, width in held.barres)
