"""Lessons in the colours of Pygments, through its own front door (pygments.org/docs/lexerdevelopment)."""

from __future__ import annotations

import re
import tomllib
from importlib.metadata import EntryPoint

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lesson_texts import shown_lessons
from places import PROJECT
from pygments import highlight
from pygments.formatters import HtmlFormatter
from pygments.token import STANDARD_TYPES, Error, Generic, Keyword, Name, String, Token

from fretloom.api import TextKind
from fretloom.frontends.highlighting.pygments_lexer import TOKENS, LessonLexer


def test_every_kind_has_a_token_that_styles_know() -> None:
    """Styles colour the standard tokens; an error would stop a build of documentation."""
    assert TOKENS.keys() == set(TextKind)
    assert set(TOKENS.values()) <= set(STANDARD_TYPES) - {Error, Token}


def test_words_are_told_apart_in_their_places() -> None:
    """A word of the notation is a keyword, and a name or a text elsewhere."""
    found = LessonLexer().get_tokens('section using  using using  "using"\n')
    words = [(kind, value) for kind, value in found if "using" in value]
    assert words == [
        (Name.Function, "using"),
        (Keyword, "using"),
        (Name, "using"),
        (String.Double, '"using"'),
    ]


def test_a_fault_stands_out_without_being_an_error() -> None:
    """Styles have a colour for it, and nothing that reads tokens stops."""
    tokens = LessonLexer().get_tokens("section a\n  E { p, t }\n")
    assert [value for kind, value in tokens if kind is Generic.Error] == ["t"]


@pytest.mark.parametrize("place", shown_lessons())
def test_all_that_people_are_shown_has_no_error(place: str) -> None:
    """Nothing of it is lost, and no token is an error, not even in a lesson that shows a fault."""
    text = shown_lessons()[place]
    tokens = list(LessonLexer(stripnl=False, ensurenl=False).get_tokens(text))
    assert "".join(value for _, value in tokens) == text
    assert Error not in {kind for kind, _ in tokens}


@given(st.text())
def test_any_text_comes_out_as_it_went_in(text: str) -> None:
    """Each piece stands where it says, and all of them together are the text."""
    at = 0
    for start, _, value in LessonLexer().get_tokens_unprocessed(text):
        assert start == at
        assert value
        at += len(value)
    assert at == len(text)


def test_a_page_of_html_shows_it() -> None:
    """A formatter of Pygments makes a page of it."""
    page = highlight('lesson "Tea & Clay"\n', LessonLexer(), HtmlFormatter())
    assert '<span class="kd">lesson</span>' in page
    assert re.search(r'<span class="s2">(?:"|&quot;)Tea &amp; Clay(?:"|&quot;)</span>', page)


def test_pygments_finds_it_by_its_entry_point() -> None:
    """The entry point leads to a class that has the names and the ending it is looked up by."""
    project = tomllib.loads((PROJECT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    ((name, place),) = project["entry-points"]["pygments.lexers"].items()
    assert EntryPoint(name, place, "pygments.lexers").load() is LessonLexer
    assert {"fretloom", "lesson"} <= set(LessonLexer.aliases)
    assert "*.lesson" in LessonLexer.filenames
