"""Lessons that were built or changed in Python: their own text, and what reading it gives."""

from __future__ import annotations

from fretloom.errors import ModelError
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.syntax.read import read
from fretloom.notation.syntax.writing.format import format_lesson
from fretloom.source import Source


def canonical(lesson: Lesson) -> str:
    """Return a lesson's canonical text.

    Raises:
        ModelError: it was built in Python and its text would not say the same; the message names
            the first block that it would not.
    """
    return format_lesson(lesson) if lesson.source is not None else _written(lesson)[0]


def reread(lesson: Lesson) -> Lesson:
    """Return a lesson with the text that it was read from, its canonical text if there is none.

    Lessons that it is linked to are not.

    Raises:
        ModelError: as `canonical`.
    """
    return lesson if lesson.source is not None else _written(lesson)[1]


def _written(lesson: Lesson) -> tuple[str, Lesson]:
    text = format_lesson(lesson)
    found = read(Source(lesson.title or "<lesson>", text))
    if found != lesson:
        raise ModelError(
            f"{_first_other(lesson, found)} cannot be written so that it is read as it is"
        )
    return text, found


def _first_other(lesson: Lesson, found: Lesson) -> str:
    """Name the first block of a lesson that was read back as something else."""
    for number, block in enumerate(lesson.blocks):
        if number >= len(found.blocks) or found.blocks[number] != block:
            name = getattr(block, "name", "") or getattr(block, "title", "")
            words = f"{type(block).__name__} {name}".rstrip()
            return f"Lesson.blocks[{number}] ({words})"
    return "what stands around the blocks"
