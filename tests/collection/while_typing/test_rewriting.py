"""Texts after the formatter or all sure changes, as edits of lines."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from typed_lessons import typed

from fretloom import LessonFaulty, apply_edits
from fretloom.collection.configuration.values import Configuration, RuleChoice
from fretloom.collection.while_typing.opened import SettledHere
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
    """Those of rules that the configuration has switched off are not."""
    text = (
        "voicings\nC  x32010  fingers .32.1.\npaterns\n  plain  p , p m , p i , p m\n"
        "section a  using plainn\n  C\n"
    )
    lesson, _ = typed(text)
    fixed = apply_edits(text, with_sure_changes(lesson, {}))
    assert fixed == text.replace("\nC ", "\n  C ").replace("paterns", "patterns").replace(
        "nn\n", "n\n"
    )
    unused = text.replace("plainn", "plain  # allow unused-pattern: why").replace(
        "paterns", "patterns"
    )
    lesson, _ = typed(unused.replace("\nC ", "\n  C "))
    assert [one.rule for one in lesson.findings] == ["waiver-not-needed"]
    off = Configuration(Path("fretloom.toml"), (RuleChoice("waiver-not-needed", "off", 1),))
    lesson, _ = typed(lesson.source.text, settled=SettledHere(Path(), off))
    assert with_sure_changes(lesson, {}) == ()


def test_a_file_that_is_left_out_is_not_formatted() -> None:
    """As `fretloom format` passes it over."""
    loose = "voicings\n C x32010\n"
    here = Path("typed.lesson").absolute().parent
    assert formatted(typed(loose, settled=SettledHere(here))[0])
    assert formatted(typed(loose, settled=SettledHere(here, left_out=True))[0]) == ()
