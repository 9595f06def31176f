"""The lesson as JSON: nothing is lost on the way out and back, and what is no lesson is refused."""

from __future__ import annotations

from hypothesis import given, settings

from fretloom.export.model_json import from_lesson_json, to_lesson_json
from fretloom.model.lesson import Lesson
from strategies import written_lessons


@settings(max_examples=60)
@given(written_lessons())
def test_reading_back_gives_an_equal_lesson(lesson: Lesson) -> None:
    """Writing and reading a lesson is the identity."""
    assert from_lesson_json(to_lesson_json(lesson)) == lesson
