"""Folds a performance: each bar is written once where repeats, endings and a jump can say the rest.

What a section writes, what the form plays again and a way back are only candidates. The measures
are taken if they are played in the order of the performance, by `measures.order_of`, and each of
them looks the same whenever it is played.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from fretloom.formats.musicxml.folding.jumps import with_jump
from fretloom.formats.musicxml.folding.looks import Looks
from fretloom.formats.musicxml.folding.measures import Folded, proved
from fretloom.formats.musicxml.folding.passes import written_out
from fretloom.formats.musicxml.folding.playings import Playings
from fretloom.formats.musicxml.folding.runs import Item, Runs
from fretloom.formats.musicxml.planning.pace import BarPace
from fretloom.formats.musicxml.planning.written import PreparedBar
from fretloom.performance.events import WrittenSection


def folded(
    bars: Sequence[PreparedBar], pace: Sequence[BarPace], sections: Sequence[WrittenSection]
) -> list[Folded]:
    """Return as few measures as say what is played; plain repeats go before jumps."""
    looks = Looks(bars, pace)
    playings = Playings([bar.played for bar in bars], sections, looks)
    for measures in _candidates(playings):
        if proved(measures, len(bars)) and all(looks.together(one.plays) for one in measures):
            return measures
    return written_out(range(len(bars)))


def _candidates(playings: Playings) -> Iterator[list[Folded]]:
    """Yield the shortest first, and what is built of less behind it."""
    runs = Runs(playings)
    items, plain = list(runs.items()), list(runs.plain())
    repeats, own = _measures(items), _measures(plain)
    jumps = (with_jump(playings, runs, of, len(repeats)) for of in (items, plain))
    yield from sorted((one for one in jumps if one is not None), key=len)
    yield repeats
    yield own


def _measures(items: Iterable[Item]) -> list[Folded]:
    return [one for item in items for one in item.measures]
