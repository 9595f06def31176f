"""What the server says of words is what the reference says of them."""

from __future__ import annotations

import pytest
from places import PROJECT

from fretloom.collection.while_typing.words import examples, place_of, reference, word_help
from fretloom.notation.model.words import OPENERS, SECTION_WORDS
from fretloom.notation.syntax.fields.table import FIELDS
from fretloom.notation.syntax.parsing.grammar import START_RULES
from fretloom.notation.syntax.read import read
from fretloom.source import Source

PAGE = " ".join(
    (PROJECT / "docs" / "reference" / "notation.md").read_text("utf-8").replace("\\|", "|").split()
)
ROWS = [(place, word, says) for place, words in reference().items() for word, says in words.items()]


@pytest.mark.parametrize(("place", "word", "says"), ROWS)
def test_each_row_stands_on_the_page_of_the_notation(place: str, word: str, says: str) -> None:
    """There is one text for people, and this table holds pieces of it."""
    assert says in PAGE
    assert place in {*START_RULES, "opening", "technique"}


def test_all_words_that_open_a_block_or_a_line_are_there() -> None:
    """A new word of the notation has to be explained."""
    assert set(reference()["opening"]) == set(OPENERS)
    assert {word for word in SECTION_WORDS if word_help("body_line", word) is None} == set()
    assert {word for word in FIELDS if word_help("setting_line", word) is None} == set()


def test_words_of_a_bar_are_found_wherever_bars_stand() -> None:
    """`fermata` is the same in a section and behind a `but`; a name is no word."""
    for rule, before in (("body_line", ""), ("body_line", "C "), ("form_line", "but bar 1: C ")):
        found = word_help(place_of(rule, before), "fermata")
        assert found is not None and found.says == "the beat waits there"
    assert word_help("body_line", "plain") is None


ABOVE = {
    "opening": "",
    "section_line": "",
    "home_line": "picking\n  ",
    "voicing_line": "voicings\n  ",
    "pattern_line": "patterns\n  ",
    "bar": "section a\n  ",
    "body_line": "section a\n  ",
    "form_line": "form\n  verse\n    ",
    "show_line": 'step "A"\n  ',
}


@pytest.mark.parametrize(
    ("place", "word", "line"),
    [(place, word, line) for place, rows in examples().items() for word, line in rows.items()],
)
def test_each_word_has_a_line_that_is_right_in_its_place(place: str, word: str, line: str) -> None:
    """A word that is explained in a place is written there just so; what is left out below `but` is no pluck."""
    assert word.rstrip("2") in line
    assert read(Source("", f"{ABOVE[place]}{line}\n")).faults == ()
    assert word in reference()[place]


def test_no_word_is_without_a_line() -> None:
    """But for those behind a pluck, and blocks that are a word alone."""
    alone = {"picking", "voicings", "patterns", "form"}
    for place, rows in reference().items():
        if place != "technique":
            assert set(rows) - alone == set(examples()[place])


@pytest.mark.parametrize(
    ("rule", "before", "place"),
    [
        ("body_line", "", "body_line"),
        ("body_line", "last ", "body_line"),
        ("body_line", "last 1: ", "bar"),
        ("body_line", "words 1: ", "body_line"),
        ("body_line", "E | ", "bar"),
        ("body_line", "E { p , ", "pattern_line"),
        ("body_line", "E { p } ", "bar"),
        ("form_line", "but ", "form_line"),
        ("form_line", "but last bar: ", "bar"),
        ("pattern_line", "a ", "pattern_line"),
    ],
)
def test_what_a_word_means_depends_on_where_it_stands(rule: str, before: str, place: str) -> None:
    """`using` alone on a line is for the section, in a bar for the bar, below `but` for a playing."""
    assert place_of(rule, before) == place
