"""Texts after the formatter or all sure changes, as edits of lines."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from typed_lessons import typed

from fretloom import LessonFaulty, apply_edits
from fretloom.collection.while_typing.opened import settled_here
from fretloom.collection.while_typing.rewriting import formatted, line_edits, with_sure_changes
from fretloom.source import Source

TEXTS = st.text(alphabet="ab \n\r\u2028\U0001f3b8", max_size=12)


@given(TEXTS, TEXTS)
def test_edits_of_lines_make_the_other_text(old: str, new: str) -> None:
    """Whatever the line ends; what is the same at both ends stays."""
    assert apply_edits(old, line_edits(Source("", old), new)) == new


def test_only_lines_that_differ_are_changed() -> None:
    """So that the caret stays where it is in all others."""
    edits = line_edits(Source("", "a\nb\nc\nd\n"), "a\nB\nc\nD\n")
    assert [(one.span.text, one.text) for one in edits] == [("b\n", "B\n"), ("d\n", "D\n")]
    (edit,) = line_edits(Source("", "a\nb\nc\n"), "a\nc\n")
    assert (edit.span.text, edit.text) == ("b\n", "")


def test_formatting_keeps_line_ends_and_refuses_a_faulty_lesson() -> None:
    """The net of the formatter holds here too."""
    lesson, _ = typed("voicings\r\n C x32010\r\n  Am x02210\r\n")
    assert (
        apply_edits(lesson.source.text, formatted(lesson))
        == "voicings\r\n  C   x32010\r\n  Am  x02210\r\n"
    )
    with pytest.raises(LessonFaulty):
        formatted(typed("voicings\n C x32010 )(\n")[0])


def test_sure_changes_are_made_together() -> None:
    """Those that the configuration has switched off are not."""
    text = "voicings\n  C  x32010  fingrs .32.1.\npatterns\n  plain  p , p , p , p\nsection a  usng plain\n  C\n"
    lesson, _ = typed(text)
    fixed = apply_edits(text, with_sure_changes(lesson, {}))
    assert fixed == text.replace("fingrs", "fingers").replace("usng", "using")
    assert settled_here(lesson.file, ()).fault == ""
