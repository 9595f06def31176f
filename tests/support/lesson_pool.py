"""The generated lessons on which the laws of all rooms are tried."""

from __future__ import annotations

from functools import cached_property
from random import Random

from attrs import frozen
from expanding import expand
from hypothesis import strategies as st
from pools import Pool
from strategies import leaning, lessons

from fretloom.notation.model.lesson import Lesson
from fretloom.notation.syntax.read import read
from fretloom.notation.syntax.writing.format import format_lesson
from fretloom.performance.events import Timeline
from fretloom.performance.expansion.expand import Expansion
from fretloom.source import Source


@frozen(eq=False)
class Made:
    """A lesson made, its values shared by all laws. `written` may lean on files that do not exist."""

    lesson: Lesson
    written: Lesson
    number: int

    @property
    def chance(self) -> Random:
        """What a law chooses by, the same each time."""
        return Random(self.number)

    @cached_property
    def text(self) -> str:
        """The lesson in canonical form."""
        return format_lesson(self.lesson)

    @cached_property
    def read(self) -> Lesson:
        """The lesson as read from its text."""
        return read(Source("generated.lesson", self.text))

    @cached_property
    def expansion(self) -> Expansion:
        """What the lesson comes to, as it was made."""
        return expand(self.lesson)

    @cached_property
    def timeline(self) -> Timeline:
        """What is played, as read from its text."""
        return expand(self.read).timeline


@st.composite
def made_lessons(draw: st.DrawFn) -> Made:
    """A lesson, perhaps with `use` and `based on` lines besides, and a number to choose by."""
    lesson = draw(lessons())
    return Made(lesson, draw(leaning(lesson)), draw(st.integers(0, 2**32 - 1)))


#: As many as the law that wants most: 150 damaged JSON documents.
LESSONS = Pool("lessons", made_lessons(), lambda made: made.text, shares=4, each=40)
