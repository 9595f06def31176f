"""Where strings and frets lie in a picture of the neck, upright or lying."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fretloom.engraving.drawn.drawing import DrawnLine, Mark, Point
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
#: The two strings of a course lie so far apart, as a share of the distance of courses.
_APART = 0.2


@frozen(kw_only=True)
class DrawnNeck:
    """A piece of the neck from fret `low` (0: from the nut) to fret `high`, with its place on paper.

    It is as a player sees it who frets with the left hand; for the other one a picture is mirrored
    as a whole.

    Args:
        strings: how many. corner: where the nut, or the first fret wire shown, meets the outer string
            that is drawn first: on the left, or on top. lying: the neck lies, string 1 on top as in tab.
        step: distance of two strings, in millimetres.
        size: how long the piece is, in millimetres; 0 for what suits a diagram.
    """

    strings: int
    low: int
    high: int
    corner: Point
    lying: bool = False
    step: float = STRING_STEP
    size: float = 0.0

    @property
    def length(self) -> float:
        """How long the piece is, in millimetres."""
        return self.size or _WINDOW + _FURTHER * (self.high - self.low - _LEAST_FRETS)

    @property
    def breadth(self) -> float:
        """From the first string to the last, in millimetres."""
        return self.step * (self.strings - 1)

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
            return (x + along, y + (string - 1) * self.step)
        return (x + (self.strings - string) * self.step, y + along)

    def wires(self, frets: Sequence[int]) -> Iterator[Mark]:
        """Draw the wires of frets."""
        for fret in frets:
            ends = (self.at(self.strings, self.wire(fret)), self.at(1, self.wire(fret)))
            yield DrawnLine(points=ends, width=0.3, ink="line")

    def drawn_strings(
        self, tuning: Tuning, start: float, end: float, factor: float = 1.0
    ) -> Iterator[Mark]:
        """Draw the strings between two places along the neck, the second string of a course on its bass side."""
        for string, widths in zip(range(self.strings, 0, -1), course_widths(tuning), strict=True):
            half = _APART / 2 * (len(widths) - 1)
            for place, width in zip((string - half, string + half), widths, strict=False):
                ends = (self.at(place, start), self.at(place, end))
                yield DrawnLine(points=ends, width=factor * width, ink="line")


def window(frets: Sequence[int]) -> tuple[int, int]:
    """Return the piece of the neck for these frets: the wire it begins at, 0 for the nut, and its last fret."""
    stopped = [fret for fret in frets if fret]
    highest = max(stopped, default=0)
    low = 0 if highest <= _LEAST_FRETS else min(stopped) - 1
    if highest > _UPPER_FRETS:
        # Near its end a neck may have no further frets to show.
        low = min(low, highest - _LEAST_FRETS)
    return low, low + max(_LEAST_FRETS, highest - low)


def string_widths(tuning: Tuning) -> tuple[float, ...]:
    """Return how thick each string is drawn, in millimetres, from the highest number down; of a course the first.

    By what it sounds, so that a high string is thin wherever it lies.
    """
    return tuple(widths[0] for widths in course_widths(tuning))


def course_widths(tuning: Tuning) -> tuple[tuple[float, ...], ...]:
    """Return how thick each string of each course is drawn, in millimetres, from the highest number down."""
    doubles = tuning.doubles or (None,) * tuning.strings
    courses = [
        (first.midi, *(() if second is None else (second.midi,)))
        for first, second in zip(tuning.pitches, doubles, strict=True)
    ]
    pitches = [pitch for course in courses for pitch in course]
    low, span = min(pitches), (max(pitches) - min(pitches)) or 1
    thinner = (_THICK - _THIN) / span
    return tuple(tuple(_THICK - thinner * (pitch - low) for pitch in course) for course in courses)


def _left_of_string(fret: int) -> float:
    return float(2 ** (-fret / 12))
