"""Laws of text and model, on whole generated lessons."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from lesson_pool import LESSONS, Made

from fretloom.notation.syntax.read import read
from fretloom.notation.syntax.writing.format import format_lesson
from fretloom.source import Source


@LESSONS.law()
def test_reading_what_was_written_gives_an_equal_lesson(made: Made) -> None:
    """The canonical text says all that the model says, and nothing else."""
    assert made.read.faults == ()
    assert made.read == made.lesson


@LESSONS.law()
def test_formatting_twice_changes_nothing(made: Made) -> None:
    """The canonical form is a fixed point."""
    assert format_lesson(made.read) == made.text


@given(st.text())
def test_any_text_is_read_without_an_exception(text: str) -> None:
    """Whatever is not understood is a fault with a place in the text."""
    lesson = read(Source("t.lesson", text))
    for fault in lesson.faults:
        assert 0 <= fault.span.start <= fault.span.end <= len(text)
        assert fault.message


@given(
    st.lists(
        st.sampled_from(
            [
                "lesson",
                '"T"',
                "section",
                "s",
                "form\n|",
                "",
                "\n",
                "E:3",
                "x2",
                "{",
                "}",
                "[",
                "]",
                "(",
                ")",
                "p+a",
                ",",
                "-",
                "@",
                ":",
                "but",
                "%",
                "with",
                "on",
                "3",
            ]
        )
    )
)
def test_any_order_of_the_signs_of_the_notation_is_read(words: list[str]) -> None:
    """Broken sentences of the notation itself do no harm."""
    text = " ".join(words)
    lesson = read(Source("t.lesson", text))
    assert format_lesson(lesson) is not None
    for fault in lesson.faults:
        assert 0 <= fault.span.start <= fault.span.end <= len(text)
