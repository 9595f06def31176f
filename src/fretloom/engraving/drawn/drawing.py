"""A picture as marks on a plane, before any format draws it.

Lengths are millimetres on paper, places are (x, y) from the top left corner. An `Ink` is a part that
a colour plays; which colour that is, a format says, for light and for dark.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Literal, TypeAlias

from attrs import evolve

from fretloom.values import frozen

Point: TypeAlias = tuple[float, float]
#: `ink` is for all that is read, `soft` for what stands back, `line` for strings and frets, `paper` for
#: what is left out of a filled mark, `tint` for a quiet ground, `thumb` for the thumb alone.
Ink = Literal["ink", "soft", "line", "paper", "tint", "thumb"]

Anchor = Literal["start", "middle", "end"]


@frozen(kw_only=True)
class DrawnLine:
    """A line through points, or with `curved` one curve by its two ends and two control points between them.

    `dash` has the lengths of a dash and of the gap behind it, () for a whole line.
    """

    points: tuple[Point, ...]
    width: float
    ink: Ink
    dash: tuple[float, ...] = ()
    curved: bool = False


@frozen(kw_only=True)
class Disc:
    """A circle, filled, or a ring with a line of `width`, or both."""

    at: Point
    radius: float
    fill: Ink | None = None
    line: Ink | None = None
    width: float = 0.0
    dash: tuple[float, ...] = ()


@frozen(kw_only=True)
class Box:
    """A rectangle with round corners, by its top left corner."""

    at: Point
    width: float
    height: float
    radius: float = 0.0
    fill: Ink | None = None
    line: Ink | None = None
    line_width: float = 0.0


@frozen(kw_only=True)
class Letters:
    """A text on one line; `at` is on its baseline, at its start, middle or end as `anchor` says.

    `after` goes on behind it, smaller and not bold: what follows the root in a chord's name.
    """

    at: Point
    text: str
    size: float
    ink: Ink = "ink"
    anchor: Anchor = "middle"
    bold: bool = False
    after: str = ""


Mark: TypeAlias = DrawnLine | Disc | Box | Letters


@frozen(kw_only=True)
class Drawing:
    """Marks in the order in which they are drawn, and what the picture says in words.

    Args:
        width, height: in millimetres; all marks lie inside.
        title: what it is, in a few words. says: all of it, for those who hear it.
        signs: which signs it has that a page explains, by their keys in `signs` of the table of phrases.
    """

    width: float
    height: float
    marks: tuple[Mark, ...]
    title: str
    says: str = ""
    signs: frozenset[str] = frozenset()


def moved(marks: Iterable[Mark], right: float, down: float) -> Iterator[Mark]:
    """Yield marks at another place."""
    for mark in marks:
        if isinstance(mark, DrawnLine):
            yield evolve(mark, points=tuple((x + right, y + down) for x, y in mark.points))
        else:
            x, y = mark.at
            yield evolve(mark, at=(x + right, y + down))


def mirrored(marks: Iterable[Mark], width: float) -> Iterator[Mark]:
    """Yield marks as a mirror shows them beside a picture of this width; words are still read forward."""
    for mark in marks:
        if isinstance(mark, DrawnLine):
            yield evolve(mark, points=tuple((width - x, y) for x, y in mark.points))
            continue
        x, y = mark.at
        if isinstance(mark, Box):
            yield evolve(mark, at=(width - x - mark.width, y))
        elif isinstance(mark, Letters):
            yield evolve(mark, at=(width - x, y), anchor=_MIRRORED[mark.anchor])
        else:
            yield evolve(mark, at=(width - x, y))


def scaled(picture: Drawing, scale: float) -> Drawing:
    """Return a picture with everything in it larger by a factor, lines and letters too."""
    return evolve(
        picture,
        width=picture.width * scale,
        height=picture.height * scale,
        marks=tuple(_scaled(mark, scale) for mark in picture.marks),
    )


_MIRRORED: dict[Anchor, Anchor] = {"start": "end", "middle": "middle", "end": "start"}


def _scaled(mark: Mark, scale: float) -> Mark:
    if isinstance(mark, DrawnLine):
        return evolve(
            mark,
            points=tuple((x * scale, y * scale) for x, y in mark.points),
            width=mark.width * scale,
            dash=tuple(part * scale for part in mark.dash),
        )
    at = (mark.at[0] * scale, mark.at[1] * scale)
    if isinstance(mark, Letters):
        return evolve(mark, at=at, size=mark.size * scale)
    if isinstance(mark, Disc):
        dash = tuple(part * scale for part in mark.dash)
        return evolve(mark, at=at, radius=mark.radius * scale, width=mark.width * scale, dash=dash)
    return evolve(
        mark, at=at, width=mark.width * scale, height=mark.height * scale,
        radius=mark.radius * scale, line_width=mark.line_width * scale,
    )  # fmt: skip
