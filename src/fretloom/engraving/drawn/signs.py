"""The small signs of diagrams: figures, crosses, bars, the thumb's foot."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.engraving.drawn.drawing import Box, DrawnLine, Ink, Letters, Mark, Point

#: A letter's middle is so far above its baseline, as a share of its size.
MIDDLE = 0.35


def figure(text: str, at: Point, size: float, ink: Ink, bold: bool = False) -> Iterator[Mark]:
    """Write a finger's figure in its disc."""
    if text:
        x, y = at
        yield Letters(at=(x, y + MIDDLE * size), text=text, size=size, ink=ink, bold=bold)


def cross(at: Point) -> Iterator[Mark]:
    """Draw the sign of a string that is not played."""
    x, y = at
    half = 0.95
    for sign in (1, -1):
        ends = ((x - half, y - sign * half), (x + half, y + sign * half))
        yield DrawnLine(points=ends, width=0.42, ink="ink")


def box_around(one: Point, other: Point, beyond: float, lying: bool = False) -> Box:
    """Return a bar from one place to another: a barre (round) or the nut."""
    left, right = sorted((one[0], other[0]))
    top, bottom = sorted((one[1], other[1]))
    nut = beyond == 1.7
    dx, dy = ((0.0, beyond) if lying else (beyond, 0.0)) if nut else (beyond, beyond)
    return Box(
        at=(left - dx, top - dy), width=right - left + 2 * dx, height=bottom - top + 2 * dy,
        radius=0.8 if nut else beyond, fill="ink",
    )  # fmt: skip


def foot(at: Point) -> Iterator[Mark]:
    """Draw the thumb's sign: a stem that stands on the ground."""
    x, y = at
    yield DrawnLine(points=((x, y - 1.2), (x, y + 1.2)), width=0.55, ink="thumb")
    yield DrawnLine(points=((x - 0.95, y + 1.2), (x + 0.95, y + 1.2)), width=0.62, ink="thumb")
