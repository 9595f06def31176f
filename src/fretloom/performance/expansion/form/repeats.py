"""Repeats while their lines are read: bars in playing order, counted where they are too many."""

from __future__ import annotations

from fretloom.notation.model.section import EndingStart
from fretloom.source import Span

#: So many bars are played at most; more are counted but never written out.
MOST_PLAYED = 20_000


class Run:
    """Bars in playing order: indices, or only their number when they are too many."""

    __slots__ = ("count", "indices")

    def __init__(self) -> None:
        self.indices: list[int] = []
        self.count = 0

    def add(self, index: int) -> None:
        """Add one bar."""
        self.count += 1
        self.indices.append(index)

    def extend(self, other: Run, times: int = 1) -> None:
        """Add other bars so many times."""
        self.count += other.count * times
        if self.count <= MOST_PLAYED:
            self.indices.extend(other.indices * times)


class Repeat:
    """A repeat that is open while its lines are read."""

    __slots__ = ("body", "current", "endings", "first", "numbers", "span", "times")

    def __init__(self, times: int, span: Span | None, first: int) -> None:
        self.times = times
        self.span = span
        self.first = first
        self.body = self.current = Run()
        self.endings: list[tuple[EndingStart, Run, int]] = []
        self.numbers: set[int] = set()

    def unrolled(self) -> Run:
        """Return the repeat as played, each pass with its ending."""
        whole = Run()
        if not self.endings:
            whole.extend(self.body, self.times)
            return whole
        by_pass = {
            number: run for ending, run, _ in reversed(self.endings) for number in ending.passes
        }
        written_out = min(self.times, MOST_PLAYED + 1)
        for number in range(1, written_out + 1):
            whole.extend(self.body)
            if number in by_pass:
                whole.extend(by_pass[number])
        whole.count += (self.times - written_out) * self.body.count
        return whole
