"""Frets on their pills of paper, and how they are reached from one another."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from fretloom.engraving.drawn.drawing import Box, Disc, DrawnLine, Letters, Mark
from fretloom.engraving.drawn.lettering import width_of
from fretloom.engraving.drawn.signs import MIDDLE
from fretloom.engraving.drawn.tab.levels import Levels
from fretloom.engraving.drawn.tab.placing.spacing import Places
from fretloom.engraving.drawn.tab.placing.struck import Struck
from fretloom.engraving.drawn.tab.values import FRET, PILL_HEIGHT, SMALL
from fretloom.values import frozen

_RING, _RING_WIDTH = 1.85, 0.4
_THIN = 0.35
#: How a slur's letter stands for its kind; a slide has a line.
_SLUR_LETTERS = {"hammer-on": "h", "pull-off": "p"}
_SLUR_SIZE = 2.6


@frozen
class Spot:
    """A fret with its place on paper."""

    struck: Struck
    x: float
    y: float


def spots(struck: Sequence[Struck], places: Places, levels: Levels) -> list[Spot]:
    """Return the frets of a bar with their places on paper."""
    return [Spot(one, places.x(one.at) + one.aside, levels.string(one.string)) for one in struck]


def pill(x: float, y: float, half: float) -> Box:
    """Return the ground on which a fret stands, so that its string does not cross it."""
    return Box(
        at=(x - half, y - PILL_HEIGHT / 2),
        width=2 * half,
        height=PILL_HEIGHT,
        radius=0.8,
        fill="paper",
    )


def frets(found: Sequence[Spot]) -> Iterator[Mark]:
    """Draw the pills, then the figures: bold for the thumb."""
    for spot in found:
        yield pill(spot.x, spot.y, spot.struck.half)
    for spot in found:
        one, x, y = spot.struck, spot.x, spot.y
        bold = one.thumb and one.part != "grace"
        yield Letters(at=(x, y + MIDDLE * one.size), text=one.text, size=one.size, bold=bold)
        if one.angled:
            yield from _angles(x, y, one.half)
        if one.hopped:
            yield _ring(x, y, one.half)
        if one.after:
            yield from _after(one, x, y)


def _ring(x: float, y: float, half: float) -> Disc:
    return Disc(at=(x, y), radius=max(_RING, half + 0.2), line="ink", width=_RING_WIDTH)


def crossed(x: float, y: float) -> Iterator[Mark]:
    """Draw the sign of a finger that has crossed: a fret in a ring."""
    yield Letters(at=(x, y + MIDDLE * FRET), text="2", size=FRET)
    yield _ring(x, y, 0.0)


def _angles(x: float, y: float, half: float) -> Iterator[Mark]:
    """Draw the angles around a natural harmonic."""
    for side in (-1, 1):
        tip, foot = x + side * (half - 0.1), x + side * (half - 0.85)
        points = ((foot, y - 1.25), (tip, y), (foot, y + 1.25))
        yield DrawnLine(points=points, width=_THIN, ink="ink")


def _after(one: Struck, x: float, y: float) -> Iterator[Mark]:
    width = width_of(one.after, SMALL)
    yield Box(
        at=(x + one.half - 0.2, y - PILL_HEIGHT / 2),
        width=width + 0.5,
        height=PILL_HEIGHT,
        fill="paper",
    )
    at = (x + one.half + 0.1, y + MIDDLE * SMALL)
    yield Letters(at=at, text=one.after, size=SMALL, anchor="start")


def slurs(found: Sequence[Spot]) -> Iterator[Mark]:
    """Draw how the fretting hand leads from fret to fret: a bow with its letter, a line for a slide."""
    for before, after in pairwise(_chained(found)):
        if after.struck.first or before.struck.note is not after.struck.note:
            continue
        left, right = before.x + before.struck.half + 0.1, after.x - after.struck.half - 0.1
        y, kind = before.y, after.struck.slur
        if kind == "slide":
            rise = 0.8 if _rises(before, after) else -0.8
            yield Box(at=(left, y - 1.1), width=right - left, height=2.2, fill="paper")
            ends = ((left, y + rise), (right, y - rise))
            yield DrawnLine(points=ends, width=0.4, ink="ink")
            continue
        letter = _SLUR_LETTERS.get(kind, "")
        middle = (left + right) / 2
        if letter and right - left > 1.6 and not _bent_under(middle, before, found):
            half = width_of(letter, _SLUR_SIZE) / 2 + 0.15
            yield Box(at=(middle - half, y - 1.2), width=2 * half, height=2.4, fill="paper")
            yield Letters(at=(middle, y + 0.8), text=letter, size=_SLUR_SIZE, ink="soft")
        yield _bow(before.x + 0.5, after.x - 0.5, y - 1.45, -0.8)


def _bent_under(x: float, spot: Spot, found: Sequence[Spot]) -> bool:
    """Whether the bow of a bent string reaches up to a place on the string over it."""
    return any(
        other.struck.string == spot.struck.string + 1
        and other.struck.note.technique.bend is not None
        and other.x < x < other.x + other.struck.right + 1.0
        for other in found
    )


def _chained(found: Sequence[Spot]) -> list[Spot]:
    """Return the frets in the order of their plucks."""
    order: dict[object, int] = {}
    for spot in found:
        order.setdefault(_key(spot), len(order))
    return sorted(found, key=lambda spot: (order[_key(spot)], spot.x))


def _key(spot: Spot) -> tuple[object, ...]:
    note = spot.struck.note
    return (note.onset, note.string, note.order, note.gesture, note.finger)


def _rises(before: Spot, after: Spot) -> bool:
    one, other = before.struck.text.strip("()"), after.struck.text.strip("()")
    return not (one.isdigit() and other.isdigit()) or int(other) >= int(one)


def _bow(left: float, right: float, y: float, height: float) -> DrawnLine:
    reach = (right - left) / 4
    points = ((left, y), (left + reach, y + height), (right - reach, y + height), (right, y))
    return DrawnLine(points=points, width=_THIN, ink="ink", curved=True)


def ringing(x: float, y: float) -> DrawnLine:
    """Return the open bow of a string that is left ringing, from the right end of its fret."""
    points = ((x + 0.2, y + 0.8), (x + 0.7, y + 1.7), (x + 1.7, y + 1.7), (x + 2.3, y + 0.9))
    return DrawnLine(points=points, width=_THIN, ink="ink", curved=True)
