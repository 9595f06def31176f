"""Finds what is wrong with a lesson, and refuses what must not go out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fretloom.api.reading import Examined, examine
from fretloom.diagnostics import Diagnostic, LessonFaulty
from fretloom.notation.model.lesson import Lesson
from fretloom.rule_facts import Severity, find_rule
from fretloom.text import agreeing

if TYPE_CHECKING:
    from fretloom.rules.house_style import HouseStyle


def check(lesson: Lesson | Examined, *, style: HouseStyle | None = None) -> list[Diagnostic]:
    """Return all findings about a lesson in the order of its text, without the waived ones.

    Args:
        lesson: one that was perhaps examined.
        style: what its collection asks for besides being right, if anything.
    """
    return list(examine(lesson, style=style).findings)


def faults(lesson: Lesson | Examined) -> tuple[Diagnostic, ...]:
    """Return the faults in how a lesson is laid out, without what the rules find."""
    return examine(lesson).reading.expansion.diagnostics


def reading_faults(lesson: Lesson) -> tuple[Diagnostic, ...]:
    """Return the errors of the text itself, without those of the files it names."""
    return tuple(
        fault
        for fault in lesson.faults
        if fault.severity is Severity.ERROR
        and not ((rule := find_rule(fault.rule)) and rule.family == "links")
    )


def without_errors(lesson: Lesson | Examined, despite_errors: bool = False) -> Examined:
    """Return an examined lesson, if its faults allow an export.

    Raises:
        LessonFaulty: it has errors (with `despite_errors`: errors that make it unclear what is played).
    """
    found = examine(lesson)
    errors = [one for one in found.findings if one.severity is Severity.ERROR]
    refused = [one for one in errors if one.music_undefined] if despite_errors else errors
    if refused:
        count = "an error" if len(refused) == 1 else f"{len(refused)} errors"
        makes = agreeing(len(refused), "makes", "make")
        reason = f"that {makes} it unclear what is played" if despite_errors else ""
        message = f"{found.lesson.title or 'the lesson'} has {count} {reason}".rstrip()
        raise LessonFaulty(message, tuple(refused))
    return found
