"""Reads lessons, and works through each of them once for everything that is asked about it."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

from fretloom.api.arguments import lesson_given
from fretloom.diagnostics import Diagnostic
from fretloom.notation.linking import linked_as_before, unlinked_noted
from fretloom.notation.loading import FilePath, TextsByPath, link_lesson, load_lesson, loads_lesson
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.rereading import reread
from fretloom.performance.events import Timeline
from fretloom.performance.reading import Reading, read_through
from fretloom.values import frozen

if TYPE_CHECKING:
    from fretloom.rules.house_style import HouseStyle
    from fretloom.rules.waivers import Waived


def load(path: FilePath, *, root: FilePath | None = None) -> Lesson:
    """Read a lesson file and the files it names by `use` and `based on`.

    Faults in the text never raise; `check` returns them.

    Args:
        path: the file.
        root: the folder of the collection, nothing outside it is read; by default the file's own
            folder.

    Raises:
        LessonUnreadable: the file is missing, is not UTF-8 text, or has over 2,000,000 characters;
            or the root is not a folder.
    """
    return load_lesson(path, root)


def loads(
    text: str,
    *,
    path: FilePath | None = None,
    root: FilePath | None = None,
    texts: TextsByPath | None = None,
) -> Lesson:
    """Read a lesson from a text, such as one that an editor has not saved yet.

    Faults in the text never raise; `check` returns them.

    Args:
        text: the lesson, as it would stand in a file.
        path: the file it belongs in, which need not be there: `use` and `based on` go from it, and
            messages call the text by it (else `<text>`).
        root: the folder of the collection, nothing outside it is read; by default the folder of
            `path`. Without a path, the text is taken to live in the root. Without either, the files
            that it names are not looked up, which is an error in each line that names one.
        texts: what stands in place of files that the text names, by their paths, whether these are
            there or not: unsaved texts of an editor, or what lies in no file.

    Raises:
        LessonUnreadable: a text has over 2,000,000 characters, or holds half of a character (a
            lone surrogate), or the root is not a folder.
    """
    return loads_lesson(text, path, root, texts)


def link(
    lesson: Lesson | Examined, *, path: FilePath | None = None, root: FilePath | None = None
) -> Lesson:
    """Read the files that a lesson names by `use` and `based on`, now; the lesson stays the same.

    A lesson from JSON, or one built in Python, has no files linked to it until then.

    Args:
        lesson: with or without a text of its own; what was linked before is forgotten.
        path: the file it belongs in, which need not be there.
        root: the folder of the collection, nothing outside it is read; by default the folder of
            `path`. Without a path, the lesson is taken to live in the root.

    Raises:
        FretloomError: neither a path nor a root is given, or the root is not a folder.
    """
    return link_lesson(lesson_of(lesson), path, root)


@frozen(eq=False)
class Examined:
    """A lesson that was read through, with its findings: made once and passed on instead of the lesson."""

    reading: Reading
    style: HouseStyle | None = None

    @property
    def lesson(self) -> Lesson:
        """The lesson, with the text that its findings point into."""
        return self.reading.lesson

    @property
    def timeline(self) -> Timeline:
        """What is played."""
        return self.reading.timeline

    @property
    def findings(self) -> tuple[Diagnostic, ...]:
        """All findings about the lesson, in the order of its text, waived ones left out."""
        return self._judged[0]

    @property
    def waived(self) -> tuple[Waived, ...]:
        """The findings that comments of the lesson allow, each with its reason, in the order of its text."""
        return self._judged[1]

    @cached_property
    def _judged(self) -> tuple[tuple[Diagnostic, ...], tuple[Waived, ...]]:
        from fretloom.rules.runner import findings

        found, waived = findings(self.reading, self.style)
        return tuple(found), tuple(waived)


def examine(lesson: Lesson | Examined, *, style: HouseStyle | None = None) -> Examined:
    """Read a lesson through once, so that checking and exporting it do not each have to do it again.

    Args:
        lesson: one that was perhaps examined before.
        style: what its collection asks for besides; without it, what was given before.
    """
    if isinstance(lesson, Examined):
        return lesson if style is None else Examined(lesson.reading, style)
    return Examined(read_through(with_text(lesson_given(lesson))), style)


def lesson_of(lesson: Lesson | Examined) -> Lesson:
    """Return a lesson that was perhaps examined.

    Raises:
        TypeError: it is none.
    """
    return lesson.lesson if isinstance(lesson, Examined) else lesson_given(lesson)


def expand(lesson: Lesson | Examined) -> Timeline:
    """Return what is played: bars in performing order with notes at exact times.

    What a faulty lesson leaves open is missing from it; `check` says what that is.
    """
    return examine(lesson).timeline


def with_text(lesson: Lesson) -> Lesson:
    """Give a lesson that has no text its canonical text, so that findings have places.

    Lines that name files which are not linked are noted.
    """
    if lesson.source is not None:
        return unlinked_noted(lesson)
    return linked_as_before(reread(lesson), lesson.linked)


def naming_of(lesson: Lesson | Examined) -> str:
    """Return how a lesson names notes: "english", "german" or "romance"."""
    return examine(lesson).reading.timeline.settings.names
