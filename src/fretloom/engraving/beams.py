"""Joins the short notes of a beat with beams; names are those of MusicXML 4.0 `beam-value`."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import lru_cache

from fretloom.engraving.grid import Grid, grid_of
from fretloom.engraving.rhythm import (
    Edges,
    Piece,
    Ratios,
    edges_of,
    ratios_of,
    written_values,
)
from fretloom.engraving.values import FLAGS
from fretloom.trade.music.meter import Meter

Beams = tuple[str, ...]
#: Value, dots and tuplets of what is joined over more than a beat.
_EIGHTH = ("eighth", 0, ())


def engraved(
    meter: Meter, start: Fraction, edges: Edges, rests: tuple[bool, ...]
) -> tuple[tuple[tuple[Piece, ...], ...], tuple[tuple[Beams, ...], ...]]:
    """Return the written values of each note or rest of a voice, and the beams of each value.

    The arguments are those of `written_values`; the beams of a value come first beam first, () for none.
    """
    return _engraved(meter, start.as_integer_ratio(), ratios_of(edges), rests)


@lru_cache(maxsize=2048)
def _engraved(
    meter: Meter, from_start: tuple[int, int], ratios: Ratios, rests: tuple[bool, ...]
) -> tuple[tuple[tuple[Piece, ...], ...], tuple[tuple[Beams, ...], ...]]:
    start, edges = Fraction(*from_start), edges_of(ratios)
    values = written_values(meter, start, edges, rests)
    flat = tuple(piece for span in values for piece in span)
    silent = tuple(rest for rest, span in zip(rests, values, strict=True) for _ in span)
    beams = iter(_beams(grid_of(meter), start, flat, silent))
    return values, tuple(tuple(next(beams) for _ in span) for span in values)


def _beams(
    grid: Grid, start: Fraction, pieces: Sequence[Piece], rests: Sequence[bool]
) -> list[Beams]:
    beams: list[Beams] = [()] * len(pieces)
    for group in _groups(grid, start, pieces, rests):
        flags = [FLAGS[pieces[index].value] for index in group]
        for place, index in enumerate(group):
            beams[index] = tuple(_beam(flags, place, level) for level in range(1, flags[place] + 1))
    return beams


def _groups(
    grid: Grid, start: Fraction, pieces: Sequence[Piece], rests: Sequence[bool]
) -> Iterator[list[int]]:
    """Yield runs of two or more notes with flags that begin in one group, no rest between them."""
    run: list[int] = []
    beat = -1
    groups = _group_starts(grid, start, pieces, rests)
    for index, piece in enumerate(pieces):
        place = sum(left <= start + piece.start for left in groups)
        joined = not rests[index] and piece.value in FLAGS
        if run and (not joined or place != beat):
            if len(run) > 1:
                yield run
            run = []
        if joined:
            run.append(index)
            beat = place
    if len(run) > 1:
        yield run


def _group_starts(
    grid: Grid, start: Fraction, pieces: Sequence[Piece], rests: Sequence[bool]
) -> list[Fraction]:
    """Return where groups begin: half a bar of four where it has plain eighths alone, else its beats."""
    mixed = [
        start + piece.start
        for piece, rest in zip(pieces, rests, strict=True)
        if not rest and piece.value in FLAGS and (piece.value, piece.dots, piece.path) != _EIGHTH
    ]
    found = list[Fraction]()
    for left, right in grid.wide_groups:
        if any(left <= place < right for place in mixed):
            found += [begin for begin, _ in grid.groups if left <= begin < right]
        else:
            found.append(left)
    return found


def _beam(flags: Sequence[int], place: int, level: int) -> str:
    before = place > 0 and flags[place - 1] >= level
    after = place + 1 < len(flags) and flags[place + 1] >= level
    if before and after:
        return "continue"
    if before or after:
        return "end" if before else "begin"
    return "forward hook" if place == 0 else "backward hook"
