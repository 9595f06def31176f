"""Makes a repeat of bars that are played several times: all the same, or with endings of their own."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

from fretloom.formats.musicxml.folding.looks import Column, Looks
from fretloom.formats.musicxml.folding.measures import Folded


def written_out(places: Iterable[int]) -> list[Folded]:
    """Return a measure for each bar."""
    return [Folded(plays=(place,)) for place in places]


def alike(looks: Looks, passes: Sequence[range]) -> int:
    """Return how many of the first passes, which are equally long, are all the same."""
    column, before = looks.column(passes[0]), passes[0]
    for count, one in enumerate(passes[1:], start=1):
        if not _equal(looks, one, before) and column.add(one) < len(one):
            return count
        before = one
    return len(passes)


def repeated(looks: Looks, passes: Sequence[range], body: int | None = None) -> list[Folded] | None:
    """Return the measures of a repeat of these passes; None if they cannot be one.

    Passes that are not all the same begin alike and have endings, each for one pass or several: "1, 3."
    and "2, 4." where two ends take turns.

    Args:
        body: how many bars stand before the endings, if that is given. Otherwise it is as many as
            all passes share, if no ending is longer.
    """
    column = looks.column(passes[0])
    for before, one in pairwise(passes):
        if not _equal(looks, one, before):
            column.cut(column.add(one))
    shared = len(column)
    if all(len(one) == shared for one in passes):
        return _plain(passes)
    longest = max(len(one) for one in passes)
    if body is None or body > shared:
        body = shared
        if longest - body > body:
            return None
    if not body or any(len(one) == body for one in passes):
        return None
    return _with_endings(looks, passes, body)


def _equal(looks: Looks, one: range, before: range) -> bool:
    """Whether a pass says in all its bars what the one before it does, so that nothing new is said."""
    whole = looks.whole
    looks.steps -= 1 + len(one) // 20
    return whole[one.start : one.stop] == whole[before.start : before.stop]


def _plain(passes: Sequence[range]) -> list[Folded]:
    columns = list(zip(*passes, strict=True))
    last = len(columns) - 1
    return [
        Folded(plays=plays, forward=not place, times=len(passes) if place == last else 0)
        for place, plays in enumerate(columns)
    ]


def _with_endings(looks: Looks, passes: Sequence[range], body: int) -> list[Folded]:
    columns = list(zip(*(one[:body] for one in passes), strict=True))
    found = [Folded(plays=plays, forward=not place) for place, plays in enumerate(columns)]
    tails = [one[body:] for one in passes]
    for numbers in _endings(looks, tails):
        ends = [tails[number - 1] for number in numbers]
        back = numbers[-1] < len(passes) or len(numbers) > 1
        last = len(ends[0]) - 1
        found += [
            Folded(
                plays=plays,
                ending=numbers,
                opens=not place,
                closes=place == last,
                back=back and place == last,
            )
            for place, plays in enumerate(zip(*ends, strict=True))
        ]
    return found


def _endings(looks: Looks, tails: Sequence[range]) -> list[tuple[int, ...]]:
    """Return for each ending the passes that end with it, in order of the page.

    The last ending on the page is that of the last pass, behind which the music goes on: where it
    would stand before another one, only passes that follow one another share an ending.
    """
    found = _grouped(looks, tails, apart=True)
    return found if found[-1][-1] == len(tails) else _grouped(looks, tails, apart=False)


def _grouped(looks: Looks, tails: Sequence[range], *, apart: bool) -> list[tuple[int, ...]]:
    """Put passes with the same end together; those with another between them only if they may be `apart`."""
    groups: list[tuple[Column, list[int]]] = []
    for number, tail in enumerate(tails, start=1):
        for column, numbers in groups if apart else groups[-1:]:
            if len(tail) == len(column) and column.fits(tail) == len(tail):
                column.add(tail)
                numbers.append(number)
                break
        else:
            groups.append((looks.column(tail), [number]))
    return [tuple(numbers) for _, numbers in groups]
