"""Turns the lengths of a voice into written values, tied where one value is not enough.

A reader must see the beats: values are cut at the middle of a bar of four and at the beats of
compound and mixed meters (common practice; MusicXML fixes no such rule). How long a note is in the
first place is decided in `lengths.py`.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from attrs import evolve

from fretloom.engraving.grid import Grid, grid_of
from fretloom.engraving.tuplets import Tuplet, find_tuplets
from fretloom.engraving.values import SHORTEST, value_of
from fretloom.trade.music.meter import Meter
from fretloom.values import frozen


@frozen
class Piece:
    """One written value.

    Args:
        start, length: in quarter notes from the bar's start.
        value, dots: name of the note value and its dots.
        actual, normal: the product of the tuplets it stands in, 1 and 1 outside of any.
        path: those tuplets, the outermost first. opens, closes: how many of them (counted from the
            innermost) begin and end with this value.
    """

    start: Fraction
    length: Fraction
    value: str
    dots: int
    actual: int = 1
    normal: int = 1
    path: tuple[Tuplet, ...] = ()
    opens: int = 0
    closes: int = 0

    @property
    def looks(self) -> tuple[object, ...]:
        """What it looks like: equal for values that are written alike, wherever they stand."""
        return (self.value, self.dots, self.actual, self.normal, self.path, self.opens, self.closes)


Edges = tuple[Fraction, ...]
#: Edges as pairs of numerator and denominator: what is looked up often is found faster by whole numbers.
Ratios = tuple[tuple[int, int], ...]


def written_values(
    meter: Meter, start: Fraction, edges: Edges, rests: tuple[bool, ...]
) -> tuple[tuple[Piece, ...], ...]:
    """Return the written values of each note or rest of a voice.

    Args:
        meter: the meter in force. start: where in a full bar this bar begins.
        edges: where the notes and rests of the voice begin, and the bar's end last.
        rests: which of them are rests.

    Raises:
        TooFine: a value would be shorter than a 1024th note.
    """
    grid = grid_of(meter)
    places = tuple(start + edge for edge in edges)
    tuplets = tuplets_of(grid, places)
    spans = [
        list(values_between(grid, tuplets, left, right, rest))
        for (left, right), rest in zip(pairwise(places), rests, strict=True)
    ]
    return _marked(spans, start)


def ratios_of(edges: Edges) -> Ratios:
    """Return edges as pairs of whole numbers."""
    return tuple([edge.as_integer_ratio() for edge in edges])


def edges_of(ratios: Ratios) -> Edges:
    """Return edges again from pairs of whole numbers."""
    return tuple([Fraction(*ratio) for ratio in ratios])


def tuplets_of(grid: Grid, places: Edges) -> tuple[Tuplet, ...]:
    """Return the tuplets in which the places of a voice lie."""
    found = list[Tuplet]()
    for left, right in grid.counted:
        found += find_tuplets(left, right, right - left, places)[1]
    return tuple(found)


def values_between(
    grid: Grid, tuplets: tuple[Tuplet, ...], left: Fraction, right: Fraction, rest: bool
) -> Iterator[Piece]:
    """Yield the values from one place of the bar to another, in and between tuplets."""
    for tuplet in tuplets:
        if tuplet.end <= left or tuplet.start >= right:
            continue
        yield from (_plain(*part) for part in grid.split(left, tuplet.start, rest))
        yield from _within((tuplet,), max(left, tuplet.start), min(right, tuplet.end))
        left = tuplet.end
    yield from (_plain(*part) for part in grid.split(left, right, rest))


def _plain(left: Fraction, right: Fraction) -> Piece:
    value = value_of(right - left)
    assert value is not None
    return Piece(left, right - left, *value)


def _within(path: tuple[Tuplet, ...], left: Fraction, right: Fraction) -> Iterator[Piece]:
    for tuplet in path[-1].inside:
        if tuplet.end <= left or tuplet.start >= right:
            continue
        yield from _faces(path, left, tuplet.start)
        yield from _within((*path, tuplet), max(left, tuplet.start), min(right, tuplet.end))
        left = tuplet.end
    yield from _faces(path, left, right)


def _faces(path: tuple[Tuplet, ...], left: Fraction, right: Fraction) -> Iterator[Piece]:
    """Yield the values of a stretch that lies in the innermost tuplet of `path` and not in a deeper one."""
    if left >= right:
        return
    tuplet = path[-1]
    face = (right - left) / tuplet.scale
    value = value_of(face)
    if value is None or (tuplet.dotted and value[1]):
        middle = tuplet.start + _strongest(left, right, tuplet) * tuplet.scale
        yield from _faces(path, left, middle)
        yield from _faces(path, middle, right)
        return
    yield _tupled(path, left, right, value)


def _strongest(left: Fraction, right: Fraction, tuplet: Tuplet) -> Fraction:
    """Return the roundest face position strictly between two places of a tuplet."""
    low, high = (left - tuplet.start) / tuplet.scale, (right - tuplet.start) / tuplet.scale
    step = Fraction(16)
    while step > SHORTEST:
        first = (low // step + 1) * step
        if first < high:
            return first
        step /= 2
    return (low + high) / 2


def _tupled(
    path: tuple[Tuplet, ...], left: Fraction, right: Fraction, value: tuple[str, int]
) -> Piece:
    shown = tuple(tuplet for tuplet in path if not tuplet.dotted)
    actual = normal = 1
    for tuplet in shown:
        actual, normal = actual * tuplet.actual, normal * tuplet.normal
    dots = value[1] + (len(path) - len(shown))
    return Piece(left, right - left, value[0], dots, actual, normal, shown)


def _marked(spans: list[list[Piece]], start: Fraction) -> tuple[tuple[Piece, ...], ...]:
    """Say where tuplets begin and end, and count from the bar's start."""
    flat = [piece for span in spans for piece in span]
    paths: list[tuple[Tuplet, ...]] = [(), *(piece.path for piece in flat), ()]
    marked = iter(
        [
            evolve(
                piece,
                start=piece.start - start,
                opens=_new(paths[index], piece.path),
                closes=_new(paths[index + 2], piece.path),
            )
            for index, piece in enumerate(flat)
        ]
    )
    return tuple(tuple(next(marked) for _ in span) for span in spans)


def _new(other: tuple[Tuplet, ...], path: tuple[Tuplet, ...]) -> int:
    return sum(tuplet not in other for tuplet in path)
