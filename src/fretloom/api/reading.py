"""Reads lessons, and works through each of them once for everything that is asked about it."""

from __future__ import annotations

from functools import cached_property
from pathlib import Path

from attrs import evolve

from fretloom.diagnostics import Diagnostic
from fretloom.notation.loading import link_text, load_lesson
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.syntax.read import read
from fretloom.performance.events import Timeline
from fretloom.performance.reading import Reading, read_through
from fretloom.source import Source
from fretloom.values import frozen


def load(path: str | Path, *, root: str | Path | None = None) -> Lesson:
    """Read a lesson file and the files it names by `use` and `based on`.

    Faults in the text never raise; `check` returns them.

    Args:
        path: the file.
        root: the folder of the collection, nothing outside it is read; by default the file's own
            folder.

    Raises:
        LessonUnreadable: the file is missing, is not UTF-8 text, or has over 2,000,000 characters.
    """
    return load_lesson(path, root)


def loads(text: str, *, name: str = "<text>", root: str | Path | None = None) -> Lesson:
    """Read a lesson from a text; `name` is what messages call it, `root` where it finds other files."""
    return link_text(read(Source(name, text.removeprefix("\ufeff"))), root)


@frozen(eq=False)
class Examined:
    """A lesson that was read through, with its findings: made once and passed on instead of the lesson."""

    reading: Reading

    @property
    def lesson(self) -> Lesson:
        """The lesson, with the text that its findings point into."""
        return self.reading.lesson

    @property
    def timeline(self) -> Timeline:
        """What is played."""
        return self.reading.timeline

    @cached_property
    def findings(self) -> tuple[Diagnostic, ...]:
        """All findings about the lesson, in the order of its text, waived ones left out."""
        from fretloom.rules.runner import findings

        return tuple(findings(self.reading))


def examine(lesson: Lesson | Examined) -> Examined:
    """Read a lesson through once, so that checking and exporting it do not each have to do it again."""
    if isinstance(lesson, Examined):
        return lesson
    return Examined(read_through(with_text(lesson)))


def expand(lesson: Lesson | Examined) -> Timeline:
    """Return what is played: bars in performing order with notes at exact times.

    What a faulty lesson leaves open is missing from it; `check` says what that is.
    """
    return examine(lesson).timeline


def with_text(lesson: Lesson) -> Lesson:
    """Give a lesson that was built without a text its canonical text, so that findings have places."""
    if lesson.source is not None:
        return lesson
    from fretloom.api.writing import format_text

    written = read(Source(lesson.title or "<lesson>", format_text(lesson)))
    return evolve(written, linked=lesson.linked)
