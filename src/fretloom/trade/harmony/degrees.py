"""Degrees: the tones of a chord, counted from its root as musicians count them.

`number` is 1 to 13 and `alter` is in semitones from the major scale on the root, so 7 is the major
seventh, b7 the seventh of a dominant chord and bb7 that of a diminished one.
"""

from __future__ import annotations

from fretloom.trade.music.pitch import STEP_SEMITONES, STEPS, NoteName
from fretloom.values import frozen

_MAJOR_SCALE = (0, 2, 4, 5, 7, 9, 11)
_SIGNS = {-2: "bb", -1: "b", 0: "", 1: "#", 2: "##"}


@frozen(order=True)
class Degree:
    """A tone of a chord, such as `Degree(7, -1)`, the flat seventh."""

    number: int
    alter: int = 0

    @property
    def semitones(self) -> int:
        """Semitones above the root within one octave, 0 to 11."""
        return (_MAJOR_SCALE[(self.number - 1) % 7] + self.alter) % 12

    def above(self, root: NoteName) -> NoteName:
        """Return the spelled note that lies at this degree above a root.

        If the right letter would need a triple accidental, the neighbouring letter is used.
        """
        step = STEPS[(STEPS.index(root.step) + self.number - 1) % 7]
        return spelled((root.pitch_class + self.semitones) % 12, step)

    def __str__(self) -> str:
        return "R" if self == ROOT else f"{_SIGNS[self.alter]}{self.number}"


ROOT = Degree(1)


def spelled(pitch_class: int, step: str) -> NoteName:
    """Return a pitch class written on a letter, or on its neighbour if it is too far from it."""
    alter = _nearest(pitch_class - STEP_SEMITONES[step])
    if abs(alter) <= 2:
        return NoteName(step, alter)
    return spelled(pitch_class, STEPS[(STEPS.index(step) + (1 if alter > 0 else -1)) % 7])


def _nearest(semitones: int) -> int:
    return (semitones + 6) % 12 - 6
