"""A lesson as a test: it is checked as by `fretloom check`, and what is found is why it fails."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path

import pytest

from fretloom import api
from fretloom.api import Diagnostic, Severity
from fretloom.collection.checking import Task, check_one
from fretloom.collection.choosing.selecting import Selection
from fretloom.collection.lessons import FoundLesson, Roots
from fretloom.errors import FretloomError

_NAME = "check"
_SECTION = "fretloom"
#: The configurations of a run, each read once, and what is wrong with some of them, said once.
_ROOTS = pytest.StashKey[Roots]()
_SAID = pytest.StashKey[set[str]]()


class LessonWrong(Exception):
    """What was found in a lesson, as it is shown."""


class LessonFile(pytest.File):
    """A lesson file, which holds one test."""

    strict: bool

    @classmethod
    def of(cls, parent: pytest.Collector, path: Path, *, strict: bool) -> LessonFile:
        """Make one; `strict` says that a warning makes the test fail."""
        made = cls.from_parent(parent, path=path)
        made.strict = strict
        return made

    def collect(self) -> Iterable[pytest.Item]:
        """Return the test of the lesson.

        Raises:
            CollectError: the configuration of its collection is faulty; this is said once.
        """
        stash = self.config.stash
        try:
            found = stash.setdefault(_ROOTS, Roots(None)).found(self.path)
        except FretloomError as error:
            said = stash.setdefault(_SAID, set())
            if str(error) in said:
                return []
            said.add(str(error))
            raise self.CollectError(str(error)) from None
        return [LessonTest.of(self, found)]


class LessonTest(pytest.Item):
    """The test that a lesson has no faults."""

    found: FoundLesson
    strict: bool

    @classmethod
    def of(cls, parent: LessonFile, found: FoundLesson) -> LessonTest:
        """Make one for a lesson and what is settled for it."""
        made = cls.from_parent(parent, name=_NAME)
        made.found, made.strict = found, parent.strict
        return made

    def runtest(self) -> None:
        """Check the lesson.

        Raises:
            LessonWrong: it has errors, or warnings if they count, or could not be read.
        """
        left_out = self.found.left_out
        if left_out is not None:
            pytest.skip(f"left out by {api.shown_name(left_out.pattern)}")
        try:
            style = self.found.configuration.style
            checked = check_one(Task(_shown(self.path), str(self.found.root), style=style))
        except FretloomError as error:
            raise LessonWrong(str(error)) from None
        if checked.unreadable:
            raise LessonWrong(checked.unreadable)
        found = Selection().of(checked, self.found.configuration).findings
        if any(map(self._counts, found)):
            raise LessonWrong(_as_text(found))
        if found:
            self.add_report_section("call", _SECTION, _as_text(found))

    def _counts(self, found: Diagnostic) -> bool:
        return found.severity is Severity.ERROR or (
            self.strict and found.severity is Severity.WARNING
        )

    def repr_failure(  # type: ignore[override]  # pytest takes a text as well.
        self, excinfo: pytest.ExceptionInfo[BaseException], *_: object
    ) -> object:
        """Show what was found, as `fretloom check` does; a traceback only for a fault of another kind."""
        if isinstance(excinfo.value, LessonWrong):
            return str(excinfo.value)
        return super().repr_failure(excinfo)

    def reportinfo(self) -> tuple[Path, None, str]:
        """Return what the lesson is called in a report."""
        return self.path, None, _shown(self.path)


def _shown(path: Path) -> str:
    """Return a path as one would type it from here."""
    try:
        shown = os.path.relpath(path)
    except ValueError:  # It lies on another drive.
        return str(path)
    return str(path) if shown.startswith("..") else shown


def _as_text(found: Iterable[Diagnostic]) -> str:
    """Return findings as `fretloom check` writes them, with the line that counts them."""
    findings = list(found)
    texts = [api.finding_as_text(one, False) for one in findings]
    return "\n\n".join([*texts, api.findings_summary((one.severity for one in findings), 1)])
