"""How long a plucked note is written: as far as one value says it, and rests after it.

That strings ring on is a marking and not a length. A note is written up to the next one of its voice
where one plain or dotted value says it without hiding a beat; else it ends where one value reaches.
So a note off the beat is what a student counts ("and") and no tie. Only what fills a bar for which
there is no value (5/8, 7/8, 9/8) is tied, and what is to be held (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise
from typing import Literal

from fretloom.engraving.grid import Grid, grid_of
from fretloom.engraving.rhythm import Edges, Ratios, edges_of, ratios_of, tuplets_of, values_between
from fretloom.engraving.tuplets import Tuplet
from fretloom.engraving.values import VALUES, TooFine
from fretloom.trade.music.meter import Meter

#: What stands at an edge of a voice: a rest, a note as long as there is room, one of a given length.
Kind = Literal["rest", "note", "held"]


def written_ends(
    meter: Meter, start: Fraction, edges: Edges, kinds: tuple[Kind, ...]
) -> tuple[Fraction | None, ...]:
    """Return where each note of a voice ends as it is written; None for what lasts up to its next edge.

    Args:
        meter: the meter in force. start: where in a full bar this bar begins.
        edges: where the notes and rests of the voice begin, and the bar's end last.
        kinds: what begins at each.
    """
    return _ends(meter, start.as_integer_ratio(), ratios_of(edges), kinds)


@lru_cache(maxsize=2048)
def _ends(
    meter: Meter, from_start: tuple[int, int], ratios: Ratios, kinds: tuple[Kind, ...]
) -> tuple[Fraction | None, ...]:
    start, edges = Fraction(*from_start), edges_of(ratios)
    grid = grid_of(meter)
    places = tuple(start + edge for edge in edges)
    tuplets = tuplets_of(grid, places)
    whole = (places[0], places[-1])
    ends = [
        right if kind != "note" else _end(grid, tuplets, left, right, whole)
        for (left, right), kind in zip(pairwise(places), kinds, strict=True)
    ]
    return tuple(
        end - start if end != right else None for end, right in zip(ends, places[1:], strict=True)
    )


def _end(
    grid: Grid,
    tuplets: tuple[Tuplet, ...],
    left: Fraction,
    right: Fraction,
    bar: tuple[Fraction, Fraction],
) -> Fraction:
    """Return where a note ends that begins at `left` and has room up to `right`."""
    reach = grid.reach(left)
    if right <= reach or left == bar[0] or _about_the_middle(grid, left, right):
        if _one(grid, tuplets, left, right):
            return right
        if (left, right) == bar:
            return right
    top = min(right, reach)
    ends = (end for end in _reached(tuplets, left, top) if _one(grid, tuplets, left, end))
    return next(ends, right)


def _about_the_middle(grid: Grid, left: Fraction, right: Fraction) -> bool:
    return grid.middle is not None and left + right == 2 * grid.middle


def _one(grid: Grid, tuplets: tuple[Tuplet, ...], left: Fraction, right: Fraction) -> bool:
    """Whether one value fills a stretch."""
    found = values_between(grid, tuplets, left, right, rest=False)
    try:
        next(found, None)
        return next(found, None) is None
    except TooFine:
        # Of the lengths that are tried, some are too short for a tuplet.
        return False


def _reached(tuplets: tuple[Tuplet, ...], left: Fraction, top: Fraction) -> Iterator[Fraction]:
    """Yield the places up to `top` to which a value leads from `left`, the farthest first."""
    scales = {Fraction(1), *_scales(tuplets, left)}
    ends = {left + value * scale for scale in scales for value in VALUES}
    yield from sorted((end for end in {*ends, top} if left < end <= top), reverse=True)


def _scales(tuplets: tuple[Tuplet, ...], left: Fraction) -> Iterator[Fraction]:
    for tuplet in tuplets:
        if tuplet.start <= left < tuplet.end:
            yield tuplet.scale
            yield from _scales(tuplet.inside, left)
