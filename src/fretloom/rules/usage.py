"""Which voicings, patterns and sections a lesson makes use of, by name, its base lessons included."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import field

from fretloom.notation.model.form import ChangeBars, ChangePattern, Form, FormEntry
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.model.section import Bar, BarLine, EndingStart, Section, ShortBar
from fretloom.notation.model.step import Show, Step
from fretloom.values import frozen


@frozen
class Usage:
    """The names that a lesson uses."""

    voicings: set[str] = field(factory=set)
    patterns: set[str] = field(factory=set)

    def add_bar(self, bar: Bar) -> None:
        """Note what a bar uses."""
        self.voicings.update(part.voicing for part in bar.parts)
        self.patterns.add(bar.using)

    def add_show(self, show: Show) -> None:
        """Note what a step shows."""
        if show.kind == "pattern":
            self.patterns.add(show.name)
        elif show.kind in ("voicing", "change"):
            self.voicings.add(show.name)
        self.voicings.add(show.over)


def bars_of(section: Section) -> Iterator[Bar]:
    """Yield the bars of a section as written, pickups and endings included."""
    for line in section.lines:
        if isinstance(line, (BarLine, EndingStart)):
            yield from line.bars
        elif isinstance(line, ShortBar):
            yield line.bar


def bars_in_form(form: Form) -> Iterator[Bar]:
    """Yield the bars that the form puts in the place of others."""
    for entry in form.entries:
        for but in entry.buts if isinstance(entry, FormEntry) else ():
            if isinstance(but, ChangeBars):
                yield from but.bars


def with_bases(lesson: Lesson) -> Iterator[Lesson]:
    """Yield the lesson and the lessons it is based on, nearest first; a cycle ends the row."""
    seen: list[Lesson] = []
    current: Lesson | None = lesson
    while current is not None and not any(current is one for one in seen):
        seen.append(current)
        yield current
        based = current.heading.setting("based") if current.heading else None
        current = current.linked.get(str(based.value)) if based else None


def usage_of(lesson: Lesson) -> Usage:
    """Return what a lesson and those it is based on use."""
    usage = Usage()
    for one in with_bases(lesson):
        usage.voicings.update(entry.like for entry in one.voicings)
        for section in one.sections:
            usage.patterns.add(section.using)
            for bar in bars_of(section):
                usage.add_bar(bar)
        if one.form:
            _add_form(usage, one.form)
        for step in one.steps:
            _add_step(usage, step)
    return usage


def _add_form(usage: Usage, form: Form) -> None:
    for bar in bars_in_form(form):
        usage.add_bar(bar)
    for entry in form.entries:
        for but in entry.buts if isinstance(entry, FormEntry) else ():
            if isinstance(but, ChangePattern):
                usage.patterns.add(but.using)


def _add_step(usage: Usage, step: Step) -> None:
    for line in step.lines:
        if isinstance(line, Show):
            usage.add_show(line)
