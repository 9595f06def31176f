"""Finds one way back through what has been written: D.C. or D.S., to a Fine or on to a coda.

What comes again at the end of a performance need not be written again if it follows a way through
what stands there: from a place with a sign on, its repeats left out as is the custom or all played.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from typing import Literal

from attrs import evolve

from fretloom.formats.musicxml.folding.looks import Looks
from fretloom.formats.musicxml.folding.measures import Folded, Region, regions
from fretloom.formats.musicxml.folding.playings import Playings
from fretloom.formats.musicxml.folding.runs import Item, Runs
from fretloom.values import frozen

#: A jump has to save so many measures: for less nobody turns back.
_LEAST_SAVED = 2
#: So many of the longest ways are tried.
_MOST_TRIED = 8


@frozen
class WayBack:
    """A way through measures that are written already.

    `measures` are those before the jump by number, `playing` is the first one after it. `visited` are
    the measures that come again, in order; `repeats` says that their repeats are played.
    """

    measures: int
    playing: int
    visited: tuple[int, ...]
    repeats: bool


def with_jump(
    playings: Playings, runs: Runs, items: Sequence[Item], least: int
) -> list[Folded] | None:
    """Return the measures of a performance with the jump that saves most; None if none saves enough.

    Args:
        items: the measures without a jump. least: how many there are at the least without one.
    """
    measures = [one for item in items for one in item.measures]
    search = _Search(playings, items, measures)
    ways = sorted(search.ways(), key=lambda way: (-len(way.visited), way.repeats))
    best: list[Folded] | None = None
    for way in ways[:_MOST_TRIED]:
        behind = playings.starts[way.playing] + len(way.visited)
        rest = _rest(playings, runs, behind)
        most = least - _LEAST_SAVED if best is None else len(best) - 1
        if way.measures + len(rest) <= most:
            found = _signed(measures[: way.measures], way, rest, playings.starts[way.playing])
            best = best if found is None else found
    return best


def _rest(playings: Playings, runs: Runs, start: int) -> list[Folded]:
    """Return the measures from a bar to the end of the performance."""
    if start == playings.starts[-1]:
        return []
    number = bisect_right(playings.starts, start) - 1
    if playings.starts[number] == start:
        return [one for item in runs.items(number) for one in item.measures]
    rest = [one for item in runs.items(number + 1) for one in item.measures]
    return [*playings.rest_of(number, start), *rest]


class _Search:
    """Looks for ways, as long as there are steps left."""

    def __init__(
        self, playings: Playings, items: Sequence[Item], measures: Sequence[Folded]
    ) -> None:
        self._playings, self._items, self._measures = playings, items, measures
        self._looks: Looks = playings.looks
        self._regions = regions(measures)
        self._states = [self._looks.together(one.plays) for one in measures]
        self._at = {place: at for at, one in enumerate(measures) for place in one.plays}

    def ways(self) -> Iterator[WayBack]:
        """Yield ways with a playing at their start that comes again, or most of it."""
        known: dict[int, list[int]] = {}
        written = playing = 0
        for item in self._items:
            for at in range(written, written + len(item.measures)):
                known.setdefault(self._looks.of[self._measures[at].plays[0]], []).append(at)
            written, playing = written + len(item.measures), item.after
            if playing == len(self._playings):
                return
            for start in known.get(self._looks.of[self._playings.starts[playing]], ()):
                if self._looks.steps < 0:
                    return
                for repeats in (False, True):
                    visited = tuple(self._visited(start, written, playing, repeats))
                    way = WayBack(written, playing, visited, repeats)
                    if self._worth(way) and self._clear(way):
                        yield way

    def _visited(self, start: int, written: int, playing: int, repeats: bool) -> Iterator[int]:
        """Yield the measures on the way from one of them that are played again from a playing on."""
        place, last = self._playings.starts[playing], self._playings.starts[-1]
        path = self._all(start, place) if repeats else self._once(start, written)
        for at in path:
            self._looks.steps -= 1
            state, first = self._states[at], self._measures[at].plays[0]
            if place == last or state is None or not self._looks.joined(first, state, place):
                return
            yield at
            place += 1

    def _once(self, start: int, written: int) -> Iterator[int]:
        """Yield the measures from one on, repeats left out."""
        for at in range(start, written):
            if not _skipped(self._measures[at], self._regions[at]):
                yield at

    def _all(self, start: int, until: int) -> Iterator[int]:
        """Yield the measures from one on as they were played, if it is not in the middle of a repeat."""
        region = self._regions[start]
        if region is None or region.first == start:
            for place in range(self._measures[start].plays[0], until):
                yield self._at[place]

    def _worth(self, way: WayBack) -> bool:
        """Whether at least half of the playing comes again."""
        playing = self._playings.bars(way.playing, way.playing + 1)
        return 2 * len(way.visited) >= len(playing)

    def _clear(self, way: WayBack) -> bool:
        """Whether everybody understands where the way ends, and what is played again on it."""
        last = way.visited[-1]
        if last == way.measures - 1:
            # To the last measure once more is a repeat: without a Fine nobody would know when to end.
            return False
        return not way.repeats or len(self._measures[last].plays) == 1


def _skipped(measure: Folded, region: Region | None) -> bool:
    """Whether a measure is left out where repeats are: it is in an ending that is not the last."""
    return bool(measure.ending) and region is not None and region.times not in measure.ending


def _signed(
    measures: Sequence[Folded], way: WayBack, rest: Sequence[Folded], start: int
) -> list[Folded] | None:
    """Return the measures before the jump, those of the way with what they are then, and the rest."""
    found = list(measures)
    for place, at in enumerate(way.visited, start=start):
        again = way.repeats and found[at].repeats
        found[at] = evolve(found[at], plays=(*found[at].plays, place), after_jump=again)
    first, last = way.visited[0], way.visited[-1]
    jump: Literal["D.C.", "D.S."] = "D.S." if first else "D.C."
    if first:
        found[first] = evolve(found[first], segno=True)
    if rest:
        found[last] = evolve(found[last], to_coda=True)
        rest = [evolve(rest[0], coda=True), *rest[1:]]
    else:
        found[last] = evolve(found[last], fine=True)
    found[-1] = evolve(found[-1], jump=jump, jumps=len(measures[-1].plays))
    return [*found, *rest]
