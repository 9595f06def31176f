"""Lessons that were built or changed in Python: their own text, and what reading it gives."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, cast

import attrs

from fretloom.diagnostics import Diagnostic, LessonFaulty
from fretloom.errors import ModelError
from fretloom.notation.model.lesson import Lesson, with_edition
from fretloom.notation.syntax.read import read
from fretloom.notation.syntax.writing.format import format_lesson
from fretloom.source import Source
from fretloom.values import evolve


def canonical(lesson: Lesson) -> str:
    """Return a lesson's canonical text.

    Raises:
        LessonFaulty: it has more faults than are read, so that the end of its text is not in it.
        ModelError: it was built in Python and its text would not say the same; the message names
            the first thing that it would not.
    """
    refuse_unfinished(lesson)
    text = format_lesson(lesson)
    if lesson.source is None:
        found = read(_source(lesson, text))
        if found != _with_edition(lesson):
            raise ModelError(_difference(lesson, found))
    return text


def refuse_unfinished(lesson: Lesson) -> None:
    """Refuse a lesson whose text was not read to its end: what follows would be lost.

    Raises:
        LessonFaulty: it is one.
    """
    faults = unfinished(lesson)
    if faults:
        raise LessonFaulty("the lesson was not read to its end: mend its first faults", faults)


def unfinished(lesson: Lesson) -> tuple[Diagnostic, ...]:
    """Return the faults for which a text was not read to its end, or not at all; none if it was."""
    stops = (
        {"too-many-faults"} if lesson.blocks else {"too-many-faults", "too-large", "later-edition"}
    )
    return tuple(fault for fault in lesson.faults if fault.rule in stops)


def reread(lesson: Lesson) -> Lesson:
    """Return a lesson with the text that it was read from, its canonical text if there is none.

    Lessons that it is linked to are not.

    Raises:
        ModelError: its text says something else, which is not a fault that could be found in it.
    """
    if lesson.source is not None:
        return lesson
    found = read(_source(lesson, format_lesson(lesson)))
    if found != _with_edition(lesson) and not found.faults:
        raise ModelError(_difference(lesson, found))
    return found


def _with_edition(lesson: Lesson) -> Lesson:
    """Return a lesson as its text has it, with the line that names the edition if that is needed."""
    blocks = with_edition(lesson.blocks)
    return lesson if blocks is lesson.blocks else evolve(lesson, blocks=blocks)


def _source(lesson: Lesson, text: str) -> Source:
    return Source(lesson.title or "<lesson>", text)


def _difference(lesson: Lesson, found: Lesson) -> str:
    """Say what of a lesson its text does not say, and the first fault of the text if there is one."""
    place = next(_other("Lesson", lesson, found), "Lesson")
    if found.faults:
        fault = found.faults[0]
        return f"{place} cannot be written: {fault.message}" + (
            f" ({fault.hint})" if fault.hint else ""
        )
    return f"{place} cannot be written so that it is read as it is"


def _other(path: str, one: object, other: object) -> Iterator[str]:
    """Yield the path to the first thing that two values do not have in common."""
    if one == other:
        return
    if isinstance(one, tuple) and isinstance(other, tuple) and len(one) == len(other):
        for place, (mine, its) in enumerate(zip(one, other, strict=True)):
            yield from _other(f"{path}[{place}]", mine, its)
    elif type(one) is type(other) and attrs.has(type(one)):
        for field in attrs.fields(cast("Any", type(one))):
            if field.eq:
                mine, its = getattr(one, field.name), getattr(other, field.name)
                yield from _other(f"{path}.{field.name}", mine, its)
    yield path
