"""The playings of a performance, and the repeats inside each as its section writes them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from fretloom.formats.musicxml.folding.looks import Looks
from fretloom.formats.musicxml.folding.measures import Folded
from fretloom.formats.musicxml.folding.passes import repeated, written_out
from fretloom.performance.events import PlayedBar, WrittenSection
from fretloom.values import frozen


@frozen
class WrittenRepeat:
    """A repeat of a section that holds no other: its first and last bar, and where its endings begin."""

    first: int
    last: int
    endings: int | None = None


class Playings:
    """The playings of a performance in order: where each begins, and its measures with the repeats inside it.

    `starts` has the number of all bars as its last entry.
    """

    def __init__(
        self, bars: Sequence[PlayedBar], sections: Sequence[WrittenSection], looks: Looks
    ) -> None:
        self.looks = looks
        self.starts = [
            *(place for place, bar in enumerate(bars) if bar.first or not place),
            len(bars),
        ]
        self.names = [bars[start].section for start in self.starts[:-1]]
        self._bars = bars
        self._repeats = {one.name: list(written_repeats(one)) for one in sections}
        self._numbered = {
            one.name: {bar.number: index for index, bar in enumerate(one.bars)} for one in sections
        }
        self._measures = [self._folded(start, stop) for start, stop in pairwise(self.starts)]

    def __len__(self) -> int:
        return len(self.names)

    def bars(self, first: int, after: int) -> range:
        """Return the bars from one playing up to another."""
        return range(self.starts[first], self.starts[after])

    def measures(self, number: int) -> list[Folded]:
        """Return the measures of a playing."""
        return self._measures[number]

    def rest_of(self, number: int, start: int) -> list[Folded]:
        """Return the measures of a playing from one of its bars on."""
        whole = start == self.starts[number]
        return self._measures[number] if whole else self._folded(start, self.starts[number + 1])

    def _folded(self, start: int, stop: int) -> list[Folded]:
        """Return bars of one playing with the repeats of its section."""
        name = self._bars[start].section
        around = {
            index: repeat
            for repeat in self._repeats.get(name, ())
            for index in range(repeat.first, repeat.last + 1)
        }
        if not around:
            return written_out(range(start, stop))
        at = {place: self._index(place) for place in range(start, stop)}
        found: list[Folded] = []
        place = start
        while place < stop:
            repeat, first = around.get(at[place]), place
            while place < stop and around.get(at[place]) is repeat:
                place += 1
            run = range(first, place)
            found += (None if repeat is None else self._repeat(run, repeat, at)) or written_out(run)
        return found

    def _index(self, place: int) -> int:
        """Return which written bar of its section a bar is, or stands for."""
        bar = self._bars[place]
        if bar.written is not None:
            return bar.written - 1
        return self._numbered[bar.section].get(bar.place, -1)

    def _repeat(
        self, run: range, repeat: WrittenRepeat, at: Mapping[int, int]
    ) -> list[Folded] | None:
        """Return the measures of a repeat, all its passes one after the other; None if it cannot be one."""
        starts = [
            place
            for place in run
            if place == run.start
            or at[place] < at[place - 1]
            or (at[place] == at[place - 1] and self._bars[place].written is not None)
        ]
        if len(starts) < 2:
            return None
        passes = [range(*ends) for ends in zip(starts, [*starts[1:], run.stop], strict=True)]
        body = None
        if repeat.endings is not None:
            body = sum(at[place] < repeat.endings for place in passes[0])
        return repeated(self.looks, passes, body)


def written_repeats(section: WrittenSection) -> Iterator[WrittenRepeat]:
    """Yield the repeats of a section that hold no other."""
    first: int | None = None
    endings: int | None = None
    for index, bar in enumerate(section.bars):
        if bar.repeats:
            first, endings = index, None
        if bar.first_of_ending and endings is None:
            endings = index
        ended = any(bar.ends) or bar.last_of_endings
        if ended and first is not None:
            yield WrittenRepeat(first, index, endings)
        if ended:
            first = None
