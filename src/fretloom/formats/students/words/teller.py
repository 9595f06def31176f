"""What all parts of a lesson in words have in common: the lesson, its listener, and what things are called."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cached_property

from fretloom.characters import nothing_hidden
from fretloom.formats.students.telling.listener import Listener, aloud
from fretloom.formats.students.telling.picking import only_over
from fretloom.formats.students.telling.pieces import Pieces
from fretloom.performance.events import TimedBar, Timeline
from fretloom.performance.reading import Reading
from fretloom.performance.showing.change_use import UsedChange, used_changes
from fretloom.performance.showing.patterns_alone import PatternOver, patterns_alone
from fretloom.performance.showing.taken_shapes import TakenShape, taken_shapes
from fretloom.values import frozen


@frozen(eq=False)
class Teller:
    """A lesson that is put into words for somebody; `spoken` says that signs are said as words."""

    reading: Reading
    listener: Listener
    spoken: bool = False

    @property
    def timeline(self) -> Timeline:
        """What is played."""
        return self.reading.timeline

    @cached_property
    def pieces(self) -> Pieces:
        """What can be shown."""
        return Pieces.of(self.reading)

    @cached_property
    def names(self) -> Mapping[str, str]:
        """What each voicing is called, by its name in the lesson."""
        names = self.pieces.names
        return {name: aloud(one) for name, one in names.items()} if self.spoken else names

    @cached_property
    def shapes(self) -> tuple[TakenShape, ...]:
        """The shapes in order of appearance."""
        return taken_shapes(self.timeline)

    @cached_property
    def changes(self) -> tuple[UsedChange, ...]:
        """The changes in order of appearance."""
        return used_changes(self.timeline)

    @cached_property
    def patterns(self) -> Mapping[PatternOver, tuple[TimedBar, ...]]:
        """The patterns that are played, alone, over the first shape that each comes with."""
        used = dict.fromkeys(one.bar.pattern for one in self.timeline.bars if one.bar.pattern)
        return patterns_alone(self.reading, [(name, self.pieces.first_over(name)) for name in used])

    def only_over(self, bars: Sequence[TimedBar]) -> str:
        """Return over which shape the strings of a pattern alone hold, "" if over all that it is played with."""
        return only_over(bars, (one.bar for one in self.timeline.bars), self.names)

    def pattern_name(self, name: str) -> str:
        """Name a pattern as students read it: its title, or its name with a capital."""
        printed = self.timeline.patterns.get(name)
        said = nothing_hidden(printed.name if printed and printed.name else name)
        return said[:1].upper() + said[1:]

    def sign_words(self, text: str) -> str:
        """Return a text with musical signs, or with words for them."""
        return aloud(text) if self.spoken else text
