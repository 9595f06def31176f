"""Which line a place is in, and how that is read."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from fretloom.collection.while_typing.line_at import line_at
from fretloom.source import Source

LESSON = 'lesson "A"  # one\n  capo 2\nvoicings\n  C  x32010\npatterns\n  a p ,\n   | p\nstep "S"\n  Some words.\n  show form\n'


@pytest.mark.parametrize(
    ("before", "rule", "block"),
    [
        ("les", "opening", ""),
        ("lesson ", "lesson_line", ""),
        ("  capo", "setting_line", "lesson"),
        ("  C", "voicing_line", "voicings"),
        ("  a p", "pattern_line", "patterns"),
        ("   | p", "pattern_line", "patterns"),
        ("  Some", "", "step"),
        ("  show fo", "show_line", "step"),
    ],
)
def test_the_block_says_how_a_line_is_read(before: str, rule: str, block: str) -> None:
    """The words that open blocks stand in column one; prose is read by nothing."""
    here = line_at(Source("", LESSON), LESSON.index(before) + len(before))
    assert (here.rule, here.block, here.before) == (rule, block, before.lstrip())
    assert here.continues is before.startswith("   |")


def test_comments_and_quotes_are_known() -> None:
    """A place in quotes, also in those that are not closed yet, and one in a comment."""
    source = Source("", LESSON + 'use "so')
    assert line_at(source, 9).quoted == "A"
    assert line_at(source, 10).quoted is None
    assert line_at(source, 13).in_comment
    assert not line_at(source, 12).in_comment
    assert line_at(source, len(source.text)).quoted == "so"


@example("  a\r\n", 4)
@given(st.text(alphabet='ab|#" \t\n\r.,:(){}"\u00e4\U0001f3b8', max_size=40), st.integers(-2, 42))
def test_any_place_of_any_text_has_a_line(text: str, offset: int) -> None:
    """What is said of it stays inside the text."""
    here = line_at(Source("", text), offset)
    assert here.body == "" or text[here.start : here.start + len(here.body)] == here.body
    word = here.word()
    assert word is None or word.text in text
    assert here.quoted is None or here.quoted in text
