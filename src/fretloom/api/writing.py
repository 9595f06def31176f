"""Lessons to text and JSON, and back from JSON."""

from __future__ import annotations

from fretloom.notation.model.lesson import Lesson


def dumps(lesson: Lesson) -> str:
    """Return the lesson's canonical text: tables aligned, every comment kept.

    Reading it gives an equal lesson. Lines that could not be read are kept as they are.

    Raises:
        ModelError: the lesson was built in Python, and no text says it.
    """
    from fretloom.notation.rereading import canonical

    return canonical(lesson)


def lesson_to_json(lesson: Lesson, *, places: bool = False) -> str:
    """Return the lesson as it is written, as JSON and without loss; `places` adds where each thing stands."""
    from fretloom.notation.lesson_json.convert import to_lesson_json

    return to_lesson_json(lesson, places=places)


def lesson_from_json(text: str) -> Lesson:
    """Read a lesson from what `lesson_to_json` returned.

    Raises:
        LessonUnreadable: the text is not the JSON of a lesson; the message says where.
    """
    from fretloom.notation.lesson_json.convert import from_lesson_json

    return from_lesson_json(text)
