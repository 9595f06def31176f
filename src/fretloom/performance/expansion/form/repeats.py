"""Repeats while their lines are read: bars in playing order, only counted where they are too many."""

from __future__ import annotations

from collections.abc import Mapping

from fretloom.limits import LIMITS
from fretloom.source import Span
from fretloom.values import frozen


class Run:
    """Bars in playing order, or only their number when they are too many.

    A bar is its index and which time it comes, from 1. `once` are the bars with each repeat taken
    once.
    """

    def __init__(self) -> None:
        self.bars: list[tuple[int, int]] = []
        self.once: list[int] = []
        self.count = 0

    def add(self, index: int) -> None:
        """Add one bar."""
        self.count += 1
        self.bars.append((index, 1))
        self.once.append(index)

    def extend(self, other: Run) -> None:
        """Add other bars."""
        self.count += other.count
        if self.count <= LIMITS.bars_played:
            self.bars += other.bars
        self.once += other.once

    def come_again(self, other: Run, comes: Mapping[int, int], passed: int) -> None:
        """Add other bars that have come `passed` times as often as `comes` says (once if it says nothing)."""
        self.bars += [(index, time + passed * comes.get(index, 1)) for index, time in other.bars]


@frozen(eq=False)
class Ending:
    """An ending of a repeat: for which passes, its bars, and the index of the first of them."""

    passes: tuple[int, ...]
    bars: Run
    first: int


class Repeat:
    """A repeat that is open while its lines are read; bars go to its last ending once it has one."""

    def __init__(self, times: int, span: Span | None, first: int) -> None:
        self.times = times
        self.span = span
        self.first = first
        self.body = Run()
        self.endings: list[Ending] = []

    @property
    def current(self) -> Run:
        """Where the next bar goes."""
        return self.endings[-1].bars if self.endings else self.body

    @property
    def numbers(self) -> frozenset[int]:
        """The passes that have an ending."""
        return frozenset(number for ending in self.endings for number in ending.passes)

    def unrolled(self, comes: dict[int, int], room: int) -> Run:
        """Return the repeat as played, each pass with its ending; once through, with the last one.

        `comes` says how often a bar comes in one pass, by its index (once if it is not there), and
        is brought up to the whole repeat. If there are more bars than `room`, they are only counted.
        """
        whole = Run()
        by_pass = {
            number: ending.bars for ending in reversed(self.endings) for number in ending.passes
        }
        ends = {number: bars for number, bars in by_pass.items() if number <= self.times}
        whole.count = self.times * self.body.count + sum(bars.count for bars in ends.values())
        if whole.count <= room:
            for number in range(1, self.times + 1) if self.body.count else sorted(ends):
                whole.come_again(self.body, comes, number - 1)
                if number in ends:
                    whole.come_again(ends[number], comes, number - 1)
        whole.once = [*self.body.once, *(ends[self.times].once if self.times in ends else ())]
        for run in (self.body, *(ending.bars for ending in self.endings)):
            for index in {index for index, _ in run.bars}:
                comes[index] = comes.get(index, 1) * self.times
        return whole
