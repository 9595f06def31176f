"""What stands beside a digit of tablature and verovio does not draw there: grace notes and bends.

verovio 6.4 gives grace notes on tablature time of their own, so that all that follows is late, and draws no bends.
Arrows that go up to how far the string is bent are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from fretloom.formats.pictures.drawing.runs import Chunk, TextRun, drawn, number
from fretloom.formats.xml import Element
from fretloom.values import frozen

#: All lengths are shares of the size of the digit.
_GRACE, _APART, _LINE = 0.75, 1.3, 0.05
_ASIDE, _LABEL, _HEAD = 1.1, 0.75, 0.16


@frozen
class BendArrow:
    """How far a string is bent, in semitones; below 0 it is released. `before`: before it is plucked."""

    semitones: Fraction
    before: bool = False

    @property
    def words(self) -> str:
        """As it is written over the arrow, in whole tones."""
        tones = self.semitones / 2
        if tones == 1:
            return "full"
        whole, part = divmod(tones, 1)
        parts = {Fraction(1, 4): "¼", Fraction(1, 2): "½", Fraction(3, 4): "¾"}
        return f"{whole or ''}{parts.get(part, '')}"


@frozen
class Beside:
    """What stands beside a digit: the frets of grace notes before it, and its bends."""

    graces: tuple[str, ...] = ()
    bends: tuple[BendArrow, ...] = ()


def graces_beside(frets: tuple[str, ...], digit: Chunk) -> Iterator[Element]:
    """Yield small digits before a digit, on the same string, with a slur to it."""
    size = digit.runs[0].size
    small = size * _GRACE
    first = digit.x - _APART * size - small * (len(frets) - 1)
    middle = digit.y - 0.35 * size
    for place, fret in enumerate(frets):
        x = first + place * small
        wide = small * 0.6 * len(fret)
        yield _paper(x - wide / 2, middle - small / 2, wide, small)
        yield from drawn(_chunk(fret, x, middle + 0.35 * small, small), "fret")
    yield _slur(first, digit.x, digit.y - 0.85 * size, size)


def _slur(start: float, end: float, y: float, size: float) -> Element:
    bow = f"{number((start + end) / 2)} {number(y - 0.5 * size)}"
    return _line(f"M{number(start)} {number(y)} Q{bow} {number(end)} {number(y)}", size)


def bends_beside(bends: tuple[BendArrow, ...], digit: Chunk, words: float) -> Iterator[Element]:
    """Yield an arrow up for the first bend, to its words at the y of `words`, and one down for a release."""
    size = digit.runs[0].size
    top = words + 0.3 * size
    middle, right = digit.y - 0.35 * size, digit.x + 0.45 * size
    first, *more = bends
    x = digit.x if first.before else right + _ASIDE * size
    if first.before:
        yield _line(f"M{number(x)} {number(digit.y - 0.8 * size)} V{number(top)}", size)
    else:
        yield _line(
            f"M{number(right)} {number(middle)} Q{number(x)} {number(middle)} {number(x)} {number(top)}",
            size,
        )
    yield _head(x, top, size, -1)
    yield from drawn(_chunk(first.words, x, words, _LABEL * size), "bend")
    if any(one.semitones < 0 for one in more):
        end = x + _ASIDE * size
        yield _line(
            f"M{number(x)} {number(top)} Q{number(end)} {number(top)} {number(end)} {number(middle)}",
            size,
        )
        yield _head(end, middle, size, 1)


def _head(x: float, y: float, size: float, down: int) -> Element:
    """Return the head of an arrow whose point is at x and y."""
    wide, back = _HEAD * size, y - down * 2 * _HEAD * size
    points = f"{number(x)},{number(y)} {number(x - wide)},{number(back)} {number(x + wide)},{number(back)}"
    return Element("polygon", {"points": points})


def _line(path: str, size: float) -> Element:
    width = number(_LINE * size)
    return Element("path", {"d": path, "fill": "none", "stroke": "black", "stroke-width": width})


def _paper(x: float, y: float, width: float, height: float) -> Element:
    """Return a piece of paper over the line of the string."""
    place = {"x": number(x), "y": number(y), "width": number(width), "height": number(height)}
    return Element("rect", {**place, "fill": "white"})


def _chunk(text: str, x: float, y: float, size: float) -> Chunk:
    return Chunk(x, y, "middle", (TextRun(text, size, bold=False, italic=False, music=False),))
