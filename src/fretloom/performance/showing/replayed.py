"""Which bars of a later playing of a section are as they were the first time, in their place or in another."""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence
from itertools import groupby, takewhile

from fretloom.performance.events import PlayedBar
from fretloom.performance.showing.looks import BarLooks
from fretloom.values import frozen

#: Of a bar that was in many places the first time so many are tried, so many bars on.
_MOST_TRIED, _MOST_AHEAD = 16, 64


@frozen(eq=False)
class SameRun:
    """Bars in a row that are all as before, all as before but `moved`, or all new.

    `number` is that of the first bar in its playing, 0 for a pickup; the first time it was `number + moved`.
    """

    bars: tuple[PlayedBar, ...]
    number: int
    moved: int | None

    @property
    def last(self) -> int:
        """The number of the last bar."""
        return self.number + len(self.bars) - 1


class FirstPlaying:
    """How a section was played the first time, bar by bar as it is written."""

    def __init__(self, bars: Sequence[PlayedBar], looks: BarLooks) -> None:
        self._looks = looks
        self._numbers: dict[tuple[int | None, Hashable], dict[int, None]] = {}
        for number, one in _numbered(bars):
            self._numbers.setdefault((one.written, looks.of(one.bar)), {})[number] = None

    def runs(self, bars: Sequence[PlayedBar]) -> Iterator[SameRun]:
        """Yield the bars of a playing in runs."""
        numbered = [
            (number, one, self._numbers.get((one.written, self._looks.of(one.bar)), {}))
            for number, one in _numbered(bars)
        ]
        moved = list[int | None]()
        for at, (number, _, numbers) in enumerate(numbered):
            before = moved[-1] if moved else None
            if not numbers:
                moved.append(None)
            elif number in numbers:
                moved.append(0)
            elif before and number + before in numbers:
                moved.append(before)
            else:
                following = [(one, found) for one, _, found in numbered[at : at + _MOST_AHEAD]]
                moved.append(_furthest(number, list(numbers)[:_MOST_TRIED], following))
        for how, group in groupby(zip(moved, numbered, strict=True), lambda one: one[0]):
            run = [one for _, one in group]
            yield SameRun(tuple(one for _, one, _ in run), run[0][0], how)


def _numbered(bars: Sequence[PlayedBar]) -> Iterator[tuple[int, PlayedBar]]:
    """Yield the bars of a playing with their numbers in it; a pickup has the number 0."""
    number = 0
    for one in bars:
        number += one.bar.kind != "pickup"
        yield number, one


def _furthest(
    number: int, places: Sequence[int], following: Sequence[tuple[int, dict[int, None]]]
) -> int:
    """Return by how much a bar is moved from that of its places after which most bars go on alike."""

    def alike(place: int) -> int:
        shift = place - number
        goes_on = (one + shift in found and one not in found for one, found in following)
        return sum(takewhile(bool, goes_on))

    return max(places, key=alike) - number
