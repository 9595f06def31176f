"""Makes repeats of whole playings that come again: `verse x2`, or verse and chorus once more."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import accumulate, pairwise

from fretloom.formats.musicxml.folding.measures import Folded
from fretloom.formats.musicxml.folding.passes import alike, repeated
from fretloom.formats.musicxml.folding.playings import Playings
from fretloom.values import frozen

#: A repeat goes over so many playings at most: over more nobody finds the way back.
_MOST_IN_REPEAT = 16
#: And it is played so often at most if not all its passes end alike.
_MOST_WITH_ENDINGS = 8


@frozen
class Item:
    """Measures that belong together, and the first playing after them."""

    measures: list[Folded]
    after: int


class Runs:
    """Finds repeats of playings. Each place is looked at once; where the steps are used up, no more are looked for."""

    def __init__(self, playings: Playings) -> None:
        self._playings = playings
        known: dict[tuple[int, ...], int] = {}
        looks = playings.looks.of
        self._looks = [
            known.setdefault(tuple(looks[start:stop]), len(known))
            for start, stop in pairwise(playings.starts)
        ]
        self._same = {
            period: _same(self._looks, period) for period in range(1, _MOST_IN_REPEAT + 1)
        }
        sizes = (len(playings.measures(number)) for number in range(len(playings)))
        self._sizes = list(accumulate(sizes, initial=0))

    def items(self, first: int = 0) -> Iterator[Item]:
        """Yield the measures from a playing on, with the repeats that save most."""
        while first < len(self._playings):
            item = self._best(first)
            yield item
            first = item.after

    def plain(self) -> Iterator[Item]:
        """Yield the measures of each playing, with no repeats but its own."""
        for number in range(len(self._playings)):
            yield Item(self._playings.measures(number), number + 1)

    def _best(self, first: int) -> Item:
        best, most = Item(self._playings.measures(first), first + 1), 0
        if self._playings.looks.steps < 0:
            return best
        for period in range(1, min(_MOST_IN_REPEAT, len(self._playings) - first - 1) + 1):
            for item in self._repeats(first, period):
                saved = self._sizes[item.after] - self._sizes[first] - len(item.measures)
                if saved > most:
                    best, most = item, saved
        return best

    def _repeats(self, first: int, period: int) -> Iterator[Item]:
        """Yield the repeats of a number of playings: those that are all the same, and with other ends."""
        playings = self._playings
        times = 1 + self._same[period][first] // period
        least = len(playings.bars(first, first + period))
        most = min(first + (times + 1) * period, len(playings))
        if self._sizes[most] - self._sizes[first] <= least:
            return
        passes = [self._pass(first + period * time, period) for time in range(times)]
        times = alike(playings.looks, passes)
        if times > 1:
            measures = repeated(playings.looks, passes[:times])
            if measures:
                yield Item(measures, first + period * times)
        passes = passes[:times]
        while len(passes) < _MOST_WITH_ENDINGS and self._goes_alike(first, period, len(passes)):
            passes.append(self._pass(first + period * len(passes), period))
            measures = repeated(playings.looks, passes)
            if measures is None:
                return
            yield Item(measures, first + period * len(passes))

    def _pass(self, first: int, period: int) -> range:
        return self._playings.bars(first, first + period)

    def _goes_alike(self, first: int, period: int, times: int) -> bool:
        """Whether behind these passes comes one more that is the same up to its last playing."""
        start = first + period * times
        names, looks = self._playings.names, self._looks
        return (
            start + period <= len(self._playings)
            and looks[first : first + period - 1] == looks[start : start + period - 1]
            and names[first + period - 1] == names[start + period - 1]
        )


def _same(looks: list[int], period: int) -> list[int]:
    """Return for each playing how many from it on look like those a period later."""
    found = [0] * (len(looks) + 1)
    for place in range(len(looks) - period - 1, -1, -1):
        found[place] = found[place + 1] + 1 if looks[place] == looks[place + period] else 0
    return found
