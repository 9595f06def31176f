"""Which fretting fingers take the notes that a voicing does not hold, over the course of a bar."""

from __future__ import annotations

from collections.abc import Sequence

from fretloom.performance.events import TimedNote
from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.playability.literal import Taken, stages
from fretloom.trade.playability.reach import Hand
from fretloom.trade.playability.shape import Fretted

#: A finger that is somewhere else within a beat is taken only if none other can be had.
_NEAR, _BUSY, _AT_ONCE = 1, 0.4, 5.0


class ExtraFingers:
    """Gives fingers to extra notes, one after the other, without hurrying a finger for nothing."""

    def __init__(self, neck: Neck, hand: Hand, notes: Sequence[TimedNote]) -> None:
        self.neck, self.hand, self.notes = neck, hand, notes
        #: Where each finger is when; filled when the first extra note comes.
        self._busy: dict[str, list[tuple[float, int, int]]] | None = None

    def take(
        self, held: Fretted, note: TimedNote, fret: int, beat: float, from_finger: str, kind: str
    ) -> str:
        """Return the finger for a fret at a time in beats; "" if none can take it.

        `held` is what the hand holds; what was plucked within a beat should go on sounding. For
        a slurred note `kind` is its kind and `from_finger` the finger it comes from: a hammer-on
        needs a higher-numbered one, a pull-off a lower one.
        """
        near = [
            other
            for other in self.notes
            if other.fretting
            and other.string != note.string
            and note.onset - _NEAR < other.onset <= note.onset
        ]
        wanted = frozenset(other.string for other in near)
        struck = frozenset(other.string for other in near if other.onset == note.onset)
        ladder = stages(self.neck, self.hand, held, note.string, fret, wanted, struck)
        possible = (
            [one for one in stage if _slurs(kind, from_finger, one.finger)] for stage in ladder
        )
        found = next(filter(None, possible), [])
        if not kind:
            below, above = _room(note)
            found = [one for one in found if one.finger in "1234"[below : 4 - above]] or found
        if not found:
            return ""
        best = min(found, key=lambda one: (self._cost(one, beat, note.string, fret), one.finger))
        self._note(best.finger, beat, note.string, fret)
        return best.finger

    def _places(self) -> dict[str, list[tuple[float, int, int]]]:
        if self._busy is None:
            self._busy = {}
            for note in self.notes:
                if note.fretting and note.fret:
                    self._note(note.fretting, float(note.onset), note.string, note.fret)
        return self._busy

    def _note(self, finger: str, beat: float, string: int, fret: int) -> None:
        self._places().setdefault(finger, []).append((beat, string, fret))

    def _cost(self, taken: Taken, beat: float, string: int, fret: int) -> float:
        cost = taken.cost
        for at, other_string, other_fret in self._places().get(taken.finger, ()):
            apart = abs(at - beat)
            if (other_string, other_fret) == (string, fret) or apart >= _NEAR:
                continue
            cost += _BUSY * (_NEAR - apart) if apart else _AT_ONCE
        return cost


def _room(note: TimedNote) -> tuple[int, int]:
    """How many fingers the slurs of a note need below its own finger, and above it."""
    level = below = above = 0
    for slur in note.slurs:
        if slur.fret:
            level += {"hammer-on": 1, "pull-off": -1}.get(slur.kind, 0)
            below, above = max(below, -level), max(above, level)
    return below, above


def _slurs(kind: str, before: str, finger: str) -> bool:
    """Whether a finger can make the slurred note that comes from another finger's note."""
    if kind == "hammer-on" and before:
        return finger > before
    if kind == "pull-off" and before:
        return finger < before
    return True
