"""Joins the short notes of a beat with beams; names are those of MusicXML 4.0 `beam-value`."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import lru_cache

from fretloom.engraving.grid import Grid
from fretloom.engraving.rhythm import Edges, Piece, written_values
from fretloom.engraving.values import FLAGS
from fretloom.trade.music.meter import Meter

Beams = tuple[str, ...]


@lru_cache(maxsize=2048)
def engraved(
    meter: Meter, start: Fraction, edges: Edges, rests: tuple[bool, ...]
) -> tuple[tuple[tuple[Piece, ...], ...], tuple[tuple[Beams, ...], ...]]:
    """Return the written values of each note or rest of a voice, and the beams of each value.

    The arguments are those of `written_values`; the beams of a value come first beam first, () for none.
    """
    values = written_values(meter, start, edges, rests)
    flat = tuple(piece for span in values for piece in span)
    silent = tuple(rest for rest, span in zip(rests, values, strict=True) for _ in span)
    beams = iter(_beams(Grid(meter), start, flat, silent))
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
    """Yield runs of two or more notes with flags that begin in one beat, no rest between them."""
    run: list[int] = []
    beat = -1
    for index, piece in enumerate(pieces):
        place = _beat_of(grid, start + piece.start)
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


def _beat_of(grid: Grid, position: Fraction) -> int:
    return sum(left <= position for left, _ in grid.groups)


def _beam(flags: Sequence[int], place: int, level: int) -> str:
    before = place > 0 and flags[place - 1] >= level
    after = place + 1 < len(flags) and flags[place + 1] >= level
    if before and after:
        return "continue"
    if before or after:
        return "end" if before else "begin"
    return "forward hook" if place == 0 else "backward hook"
