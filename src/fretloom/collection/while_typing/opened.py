"""A lesson that is being typed: its text so far, read with the files that it names as an editor has them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from functools import cached_property
from os import PathLike
from pathlib import Path

from fretloom import api
from fretloom.api import Diagnostic, Examined
from fretloom.collection.configuration.finding import resolved
from fretloom.collection.configuration.values import Configuration
from fretloom.collection.lessons import Roots
from fretloom.errors import FretloomError, LessonUnreadable
from fretloom.notation.loading import refuse_unreadable
from fretloom.notation.model.lesson import Lesson
from fretloom.source import Source
from fretloom.values import frozen

_HALF = re.compile("[\ud800-\udfff]")


@frozen
class SettledHere:
    """What holds for a lesson in an editor.

    Args:
        root: of its collection.
        configuration: which findings count.
        left_out: whether the configuration leaves the file out.
        fault: why the configuration does not count, "" if it does.
    """

    root: Path
    configuration: Configuration = Configuration()
    left_out: bool = False
    fault: str = ""


def settled_here(file: Path, folders: Iterable[Path]) -> SettledHere:
    """Return what holds for a lesson, as for `fretloom check`, but wherever the program was started.

    Without a configuration the root is the outermost folder that the editor has open above the
    file, else the file's own; of one that is not there yet, the nearest above it that is.

    Args:
        file: of the lesson, which need not be there.
        folders: that the editor has open.
    """
    place = resolved(file)
    above = [one for one in map(resolved, folders) if place.is_relative_to(one)]
    usual = _there(min(above, key=lambda one: len(one.parts), default=place.parent))
    try:
        found = Roots(None).found(file)
    except FretloomError as error:
        return SettledHere(usual, fault=str(error))
    settled = found.configuration
    return SettledHere(settled.root or usual, settled, found.left_out is not None)


def _there(folder: Path) -> Path:
    """Return a folder, or the nearest above it that is there already."""
    return next((one for one in (folder, *folder.parents) if _is_folder(one)), folder)


def _is_folder(place: Path) -> bool:
    try:
        return place.is_dir()
    except (OSError, ValueError):
        return False


@frozen(eq=False)
class OpenLesson:
    """A lesson as it is typed so far. What is asked of it is worked out once, when it is asked."""

    file: Path
    lesson: Lesson
    settled: SettledHere

    @property
    def source(self) -> Source:
        """The text that all spans point into."""
        assert self.lesson.source is not None
        return self.lesson.source

    @cached_property
    def examined(self) -> Examined:
        """The lesson read through."""
        return api.examine(self.lesson, style=self.settled.configuration.style)

    @cached_property
    def findings(self) -> tuple[Diagnostic, ...]:
        """What `fretloom check` would report of it; nothing if it is left out."""
        if self.settled.left_out:
            return ()
        return tuple(self.settled.configuration.applied(self.examined.findings))

    @cached_property
    def needs(self) -> frozenset[Path]:
        """The files that it and those it names depend on, links followed, also those that are not there."""
        return frozenset(resolved(Path(name)) for name in api.files_named(self.lesson)) - {
            resolved(self.file)
        }


def opened(file: Path, text: str, texts: Mapping[Path, str], settled: SettledHere) -> OpenLesson:
    """Read a text that is being typed.

    Args:
        file: that it is, or will be, saved in.
        text: as it stands in the editor.
        texts: of other files that are open, in place of what these hold.
        settled: what holds for it.

    Raises:
        LessonUnreadable: it is too large for a lesson, or holds half of a character.
    """
    others: dict[str | PathLike[str], str] = {
        one: other for one, other in texts.items() if possible(other)
    }
    lesson = api.loads(text, path=file, root=settled.root, texts=others)
    return OpenLesson(file, lesson, settled)


def reread(lesson: OpenLesson, text: str, texts: Mapping[Path, str]) -> OpenLesson:
    """Return a lesson as it would be with another text; `texts` as for `opened`."""
    return opened(lesson.file, text, texts, lesson.settled)


def possible(text: str) -> bool:
    """Whether a file could hold a text, and be read; else what is on the disk counts."""
    try:
        refuse_unreadable(text, "")
    except LessonUnreadable:
        return False
    return True


def half_at(text: str) -> int | None:
    """Return where a text that is typed holds half of a character, None if it is of whole ones."""
    found = None if text.isascii() else _HALF.search(text)
    return found.start() if found is not None else None


def warm_up() -> None:
    """Have everything imported that a lesson needs, so that the first one is not slower than others."""
    text = (
        "voicings\n  C  x32010\npatterns\n  plain  p , p m , p i , p\nsection a  using plain\n  C\n"
    )
    lesson = api.examine(api.loads(text))
    assert not any(one.music_undefined for one in lesson.findings)
    api.suggest_voicings("C", lesson, limit=1)
