"""Repeats while their lines are read: bars in playing order, only counted where they are too many."""

from __future__ import annotations

from fretloom.limits import LIMITS
from fretloom.source import Span
from fretloom.values import frozen


class Run:
    """Bars in playing order: indices, or only their number when they are too many."""

    def __init__(self) -> None:
        self.indices: list[int] = []
        self.count = 0

    def add(self, index: int) -> None:
        """Add one bar."""
        self.count += 1
        self.indices.append(index)

    def extend(self, other: Run, times: int = 1) -> None:
        """Add other bars, `times` times over."""
        self.count += other.count * times
        if self.count <= LIMITS.bars_played:
            self.indices.extend(other.indices * times)


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

    def unrolled(self) -> Run:
        """Return the repeat as played, each pass with its ending."""
        whole = Run()
        if not self.endings:
            whole.extend(self.body, self.times)
            return whole
        by_pass = {
            number: ending.bars for ending in reversed(self.endings) for number in ending.passes
        }
        written_out = min(self.times, LIMITS.bars_played + 1)
        for number in range(1, written_out + 1):
            whole.extend(self.body)
            if number in by_pass:
                whole.extend(by_pass[number])
        whole.count += (self.times - written_out) * self.body.count
        return whole
