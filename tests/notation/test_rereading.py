"""Lessons built in Python: their text says all that they say, or they are refused."""

from __future__ import annotations

from hypothesis import HealthCheck, given, settings
from pools import deep
from strategies_built import lessons

from fretloom.errors import ModelError
from fretloom.model import Lesson
from fretloom.notation.lesson_json.convert import to_lesson_json
from fretloom.notation.lesson_json.reading import from_lesson_json
from fretloom.notation.rereading import canonical, reread
from fretloom.notation.syntax.read import read
from fretloom.source import Source

odd = settings(max_examples=300 if deep() else 100, suppress_health_check=list(HealthCheck))


@odd
@given(lessons())
def test_what_constructors_accept_is_written_and_read_back_or_refused(lesson: Lesson) -> None:
    """No text that is written reads as something else."""
    try:
        text = canonical(lesson)
    except ModelError as error:
        assert str(error).startswith("Lesson")
        return
    assert read(Source("t.lesson", text)) == lesson
    text.encode("utf-8")


@odd
@given(lessons())
def test_what_cannot_be_written_is_a_finding_or_refused(lesson: Lesson) -> None:
    """Checking never takes one lesson for another without a word."""
    try:
        found = reread(lesson)
    except ModelError:
        return
    assert found == lesson or found.faults


@odd
@given(lessons())
def test_what_constructors_accept_goes_through_json(lesson: Lesson) -> None:
    """Reading the JSON builds the same lesson by the same constructors."""
    assert from_lesson_json(to_lesson_json(lesson)) == lesson
