"""Exact numbers in the JSON of a lesson: long ones are refused before they are worked out."""

from __future__ import annotations

import json

import pytest

from fretloom.errors import LessonUnreadable
from fretloom.notation.lesson_json.convert import from_lesson_json, to_lesson_json
from fretloom.notation.syntax.read import read
from fretloom.source import Source

LESSON = read(Source("air.lesson", 'lesson "Air"\n  tempo 96\n'))


def with_tempo(number: str) -> str:
    """Return the JSON of the lesson with another tempo."""
    written = to_lesson_json(LESSON)
    assert written.count('"96"') == 1
    return written.replace('"96"', json.dumps(number))


def test_a_number_of_forty_signs_is_read() -> None:
    """So many signs are allowed, the stroke of a fraction counted."""
    number = "9" * 19 + "/" + "1" * 20
    assert f'"{number}"' in to_lesson_json(from_lesson_json(with_tempo(number)))


def test_a_longer_number_is_refused() -> None:
    """One more is one too many: the message names the place."""
    with pytest.raises(LessonUnreadable, match=r"per_minute: .* fraction"):
        from_lesson_json(with_tempo("9" * 20 + "/" + "1" * 20))
