"""A section planned: its written bars, their order, and the repeat signs around them."""

from __future__ import annotations

from functools import cached_property

from attrs import field

from fretloom.notation.model.section import (
    Bar,
    BarLine,
    EndingStart,
    Section,
    SectionLine,
    ShortBar,
)
from fretloom.performance.expansion.form.slots import Slot
from fretloom.values import frozen


@frozen(eq=False)
class Signs:
    """The repeat signs around written bars, by the bar's index (see `WrittenBar`)."""

    repeats: dict[int, int] = field(factory=dict)
    ends: dict[int, tuple[int, ...]] = field(factory=dict)
    passes: dict[int, tuple[int, ...]] = field(factory=dict)
    first_of: set[int] = field(factory=set)
    last_of: set[int] = field(factory=set)
    last_of_all: set[int] = field(factory=set)


@frozen(eq=False)
class Plan:
    """A section's written bars and their order in one playing.

    Args:
        slots: the written bars. order: as played, each by its index and which time it comes, from 1;
            None if they are too many. once: their indices with each repeat taken once.
        comes: how often a bar comes in one playing, by its index; those that are not there, once.
        played: how many bars one playing has. counted: how many written bars are numbered.
        complete: whether every line and bar was understood.
        signs: the repeat signs around them.
    """

    section: Section
    slots: tuple[Slot, ...]
    order: tuple[tuple[int, int], ...] | None
    once: tuple[int, ...]
    comes: dict[int, int]
    played: int
    counted: int
    complete: bool
    signs: Signs

    @cached_property
    def first_loudness(self) -> int:
        """How many bars the loudness with which the section begins is in force for."""
        begins = self.slots[0].pace.dynamic if self.slots else ""
        for slot in self.slots:
            if slot.pace.dynamic != begins:
                return slot.index
            if slot.pace.swell is not None and slot.pace.swell.ends == 1:
                return slot.index + 1
        return len(self.slots)

    @cached_property
    def numbered(self) -> dict[int, Slot]:
        """The written bars by number, pickups left out."""
        return {slot.number: slot for slot in self.slots if slot.kind != "pickup"}


def bars_written(section: Section) -> int:
    """Return how many bars a section has as it is written, `x2` as two."""
    return sum(bar.times for line in section.lines for bar in _bars_of(line))


def _bars_of(line: SectionLine) -> tuple[Bar, ...]:
    if isinstance(line, BarLine | EndingStart):
        return line.bars
    return (line.bar,) if isinstance(line, ShortBar) else ()
