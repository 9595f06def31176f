"""The signs of diagrams, each drawn in one place: fingers, open strings, bars, ways, the thumb's foot.

Places are those on paper. What each sign means is in `signs` of the table of phrases.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot

from fretloom.engraving.drawn.drawing import Box, Disc, DrawnLine, Ink, Letters, Mark, Point

#: A letter's middle is so far above its baseline, as a share of its size.
MIDDLE = 0.35
#: How large a finger is, in millimetres.
RADIUS = 1.84
_RING = 0.86 * RADIUS
_FIGURE, _SOFT_FIGURE, _OLD_FIGURE = 3.2, 3.0, 2.7
_HEAD = 1.2


def figure(text: str, at: Point, size: float, ink: Ink, bold: bool = False) -> Iterator[Mark]:
    """Write a finger's figure in its disc."""
    if text:
        x, y = at
        yield Letters(at=(x, y + MIDDLE * size), text=text, size=size, ink=ink, bold=bold)


def finger_down(finger: str, at: Point, over: bool = False) -> Iterator[Mark]:
    """Draw a finger that stops a string; `over` a bar of the same ink it has an edge."""
    yield Disc(at=at, radius=RADIUS, fill="ink", line="paper" if over else None, width=0.3 * over)
    yield from figure(finger, at, _FIGURE, "paper", bold=True)


def finger_held(finger: str, at: Point) -> Iterator[Mark]:
    """Draw a finger whose string is never plucked."""
    yield Disc(at=at, radius=_RING, fill="paper", line="soft", width=0.3)
    yield from figure(finger, at, _SOFT_FIGURE, "soft")


def finger_was(finger: str, at: Point) -> Iterator[Mark]:
    """Draw where a finger was in the shape before."""
    yield Disc(at=at, radius=_RING, fill="paper", line="soft", width=0.35, dash=(0.9, 0.7))
    yield from figure(finger, at, _OLD_FIGURE, "soft")


def finger_hops(finger: str, at: Point) -> Iterator[Mark]:
    """Draw where a finger goes within the bar."""
    yield Disc(at=at, radius=0.9 * RADIUS, fill="paper", line="ink", width=0.55)
    yield from figure(finger, at, _FIGURE, "ink", bold=True)


def bar(finger: str, first: Point, last: Point, *, over: bool, quiet: bool) -> Iterator[Mark]:
    """Draw a finger that lies over strings, its figure on the first; `quiet` if the song plucks none of them."""
    beyond = _RING if quiet else RADIUS
    box = box_around(first, last, beyond, beyond)
    if quiet:
        yield _edged(box, "paper", "soft", 0.3)
        yield from figure(finger, first, _SOFT_FIGURE, "soft")
    else:
        yield _edged(box, "ink", "paper", 0.3) if over else box
        yield from figure(finger, first, _FIGURE, "paper", bold=True)


def open_string(at: Point, quiet: bool = False) -> Iterator[Mark]:
    """Draw the sign of an open string."""
    if quiet:
        yield Disc(at=at, radius=0.8, line="soft", width=0.22)
    else:
        yield Disc(at=at, radius=1.05, line="ink", width=0.5)


def cross(at: Point) -> Iterator[Mark]:
    """Draw the sign of a string that is not played."""
    x, y = at
    half = 0.95
    for sign in (1, -1):
        ends = ((x - half, y - sign * half), (x + half, y + sign * half))
        yield DrawnLine(points=ends, width=0.42, ink="ink")


def nut(one: Point, other: Point, lying: bool = False) -> Box:
    """Return the bar of the nut, or of a capo that is at its place."""
    return box_around(one, other, 0.0 if lying else 1.7, 1.7 if lying else 0.0, 0.8)


def box_around(
    one: Point, other: Point, across: float, down: float, radius: float | None = None
) -> Box:
    """Return a bar from one place to another that reaches out beyond both, in x and in y."""
    left, right = sorted((one[0], other[0]))
    top, bottom = sorted((one[1], other[1]))
    return Box(
        at=(left - across, top - down), width=right - left + 2 * across,
        height=bottom - top + 2 * down, radius=across if radius is None else radius, fill="ink",
    )  # fmt: skip


def foot(at: Point) -> Iterator[Mark]:
    """Draw the thumb's sign: a stem that stands on the ground."""
    x, y = at
    yield DrawnLine(points=((x, y - 1.2), (x, y + 1.2)), width=0.55, ink="thumb")
    yield DrawnLine(points=((x - 0.95, y + 1.2), (x + 0.95, y + 1.2)), width=0.62, ink="thumb")


def count_box(left: float, top: float, width: float, height: float) -> Box:
    """Return the box for the counts of the thumb."""
    return Box(
        at=(left, top), width=width, height=height, radius=0.6, fill="tint", line="line",
        line_width=0.18,
    )  # fmt: skip


def way(
    points: tuple[Point, Point, Point, Point], head: tuple[Point, Point, Point]
) -> Iterator[Mark]:
    """Draw the way of a finger that hops: a curve on a halo, with an open head."""
    yield DrawnLine(points=points, width=1.7, ink="paper", curved=True)
    yield DrawnLine(points=points, width=0.45, ink="ink", curved=True)
    yield DrawnLine(points=head, width=0.45, ink="ink")


def slide(start: Point, end: Point) -> Iterator[Mark]:
    """Draw the way of a finger that slides on its string: a straight arrow on a halo.

    Nothing is drawn where the places are too near for it to be seen.
    """
    (x, y), (to_x, to_y) = start, end
    far = hypot(to_x - x, to_y - y)
    if far < 0.6:
        return
    across, down = (to_x - x) / far, (to_y - y) / far
    head = min(_HEAD, 0.6 * far)
    wings = tuple(
        (to_x - head * across - side * down, to_y - head * down + side * across)
        for side in (0.7 * head, -0.7 * head)
    )
    yield DrawnLine(points=(start, end), width=1.6, ink="paper")
    yield DrawnLine(points=(start, end), width=0.5, ink="ink")
    yield DrawnLine(points=(wings[0], end, wings[1]), width=0.5, ink="ink")


def _edged(box: Box, fill: Ink, line: Ink, width: float) -> Box:
    return Box(
        at=box.at, width=box.width, height=box.height, radius=box.radius, fill=fill, line=line,
        line_width=width,
    )  # fmt: skip
