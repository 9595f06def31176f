"""Lessons in another key, or with another capo, as text."""

from __future__ import annotations

from fretloom.api.advising import suggest_capos
from fretloom.api.checking import without_errors
from fretloom.api.reading import Examined
from fretloom.api.writing import dumps
from fretloom.errors import FretloomError
from fretloom.notation.model.lesson import Lesson


def transpose(
    lesson: Lesson | Examined, *, plays: str | None = None, capo: int | None = None
) -> tuple[str, tuple[str, ...]]:
    """Return the text of the lesson in another key, and remarks on what to look at.

    Args:
        lesson: one without errors.
        plays: the key whose shapes the hand is to play; without `capo` the lesson sounds as before.
        capo: the fret of the capo; without `plays` the shapes stay the same and it sounds in
            another key.

    Raises:
        LessonFaulty: the lesson has errors.
        FretloomError: the capo does not fit on the neck, or the lesson does not say its key.
    """
    from fretloom.arranging.new_key import with_capo, with_shapes_of
    from fretloom.report.advice.remarks import remark_text
    from fretloom.trade.music.key import parse_key

    reading = without_errors(lesson).reading
    moved = (
        with_capo(reading, capo or 0)
        if plays is None
        else with_shapes_of(reading, parse_key(plays), capo)
    )
    return dumps(moved.lesson), tuple(map(remark_text, moved.remarks))


def with_easiest_capo(
    lesson: Lesson | Examined, *, sounds: str | None = None, capo: int | None = None
) -> str:
    """Return the text of the lesson with the easiest capo and its shapes, or with the one named."""
    for choice in suggest_capos(lesson, sounds=sounds):
        if capo in (None, choice.capo):
            return dumps(choice.lesson)
    raise FretloomError(f"no shapes were found for a capo at fret {capo}")
