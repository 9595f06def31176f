"""Where strings and frets lie in a diagram, upright or along the neck, for either hand."""

from __future__ import annotations

from fretloom.engraving.drawn.drawing import Point
from fretloom.trade.guitar.tuning import Tuning
from fretloom.values import frozen

#: Distance of two strings, in millimetres.
STRING_STEP = 4.0
#: The window of four frets, in millimetres, and how much longer it is for each further one.
_WINDOW, _FURTHER = 25.0, 4.2
#: So much of its fret a finger lies behind the fret's wire.
_BEHIND = 0.46
_LEAST_FRETS = 4
#: Beyond this fret a window ends with the shape's last fret: no guitar has fewer (common practice, no source).
_UPPER_FRETS = 17
#: The thickest and the thinnest string, in millimetres.
_THICK, _THIN = 0.60, 0.26


@frozen(kw_only=True)
class DrawnNeck:
    """A piece of the neck from fret `low` (0: from the nut) to fret `high`, with its place on paper.

    Args:
        strings: how many. corner: where the nut, or the first fret wire shown, meets the outer string
            that is drawn first: on the left, or on top. lying: the neck lies, string 1 on top as in tab.
        mirrored: as a left-handed player holds it: upright the lowest string is on the right, lying
            the nut is.
        width: of the picture that lies, to mirror it.
    """

    strings: int
    low: int
    high: int
    corner: Point
    lying: bool = False
    mirrored: bool = False
    width: float = 0.0

    @property
    def length(self) -> float:
        """How long the piece is, in millimetres."""
        return _WINDOW + _FURTHER * (self.high - self.low - _LEAST_FRETS)

    @property
    def breadth(self) -> float:
        """From the first string to the last, in millimetres."""
        return STRING_STEP * (self.strings - 1)

    def wire(self, fret: int) -> float:
        """Return how far a fret's wire is from the start of the piece; frets grow narrower as on a real neck.

        Equal temperament: each fret leaves 2 ** (-1/12) of the string.
        """
        start, end = _left_of_string(self.low), _left_of_string(self.high)
        return self.length * (start - _left_of_string(fret)) / (start - end)

    def finger(self, fret: int) -> float:
        """Return how far from the start a finger lies that stops a fret."""
        return self.wire(fret) - _BEHIND * (self.wire(fret) - self.wire(fret - 1))

    def at(self, string: float, along: float) -> Point:
        """Return the place on paper on a string (1 the highest), so far along the neck."""
        x, y = self.corner
        if self.lying:
            across = y + (string - 1) * STRING_STEP
            return (self.width - x - along if self.mirrored else x + along, across)
        from_left = string - 1 if self.mirrored else self.strings - string
        return (x + from_left * STRING_STEP, y + along)


def window(frets: list[int]) -> tuple[int, int]:
    """Return the piece of the neck for these frets: the wire it begins at, 0 for the nut, and its last fret."""
    stopped = [fret for fret in frets if fret]
    highest = max(stopped, default=0)
    low = 0 if highest <= _LEAST_FRETS else min(stopped) - 1
    if highest > _UPPER_FRETS:
        # Near its end a neck may have no further frets to show.
        low = min(low, highest - _LEAST_FRETS)
    return low, low + max(_LEAST_FRETS, highest - low)


def string_widths(tuning: Tuning) -> tuple[float, ...]:
    """Return how thick each string is drawn, in millimetres, from the highest number down.

    By what it sounds, so that a high string is thin wherever it lies.
    """
    pitches = [pitch.midi for pitch in tuning.pitches]
    low, high = min(pitches), max(pitches)
    span = (high - low) or 1
    return tuple(_THICK - (_THICK - _THIN) * (pitch - low) / span for pitch in pitches)


def _left_of_string(fret: int) -> float:
    return float(2 ** (-fret / 12))
