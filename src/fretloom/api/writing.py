"""Lessons to text and JSON, and back from JSON."""

from __future__ import annotations

from fretloom.api.reading import Examined, lesson_of
from fretloom.notation.model.lesson import Lesson


def dumps(lesson: Lesson | Examined) -> str:
    """Return the lesson's canonical text: tables aligned, every comment kept.

    Reading it gives an equal lesson. Lines that could not be read are kept as they are.

    Raises:
        LessonFaulty: the lesson has more faults than are read, so that its end would be lost.
        ModelError: the lesson was built in Python, and no text says it.
    """
    from fretloom.notation.rereading import canonical

    text = canonical(lesson_of(lesson))
    # Reading takes one byte order mark for the file's own: one that is in the text is kept behind it.
    return f"\ufeff{text}" if text.startswith("\ufeff") else text


def lesson_to_json(lesson: Lesson | Examined, *, places: bool = False) -> str:
    """Return the lesson as it is written, as JSON and without loss; `places` adds where each thing stands.

    A lesson that was built or changed in Python has the places of its canonical text.
    """
    from fretloom.notation.lesson_json.convert import to_lesson_json
    from fretloom.notation.rereading import reread

    written = lesson_of(lesson)
    return to_lesson_json(reread(written) if places else written, places=places)


def lesson_from_json(text: str) -> Lesson:
    """Read a lesson from what `lesson_to_json` returned.

    It has no files linked to it: see `link`.

    Raises:
        LessonUnreadable: the text is not the JSON of a lesson, or of one that no text could say, or
            has over 20,000,000 characters; the message says where.
    """
    from fretloom.notation.lesson_json.reading import from_lesson_json

    return from_lesson_json(text)
