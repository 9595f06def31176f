"""What the server says of words is what the reference says of them."""

from __future__ import annotations

import pytest
from places import PROJECT

from fretloom.collection.while_typing.words import reference, word_help
from fretloom.notation.model.words import OPENERS, SECTION_WORDS
from fretloom.notation.syntax.fields.table import FIELDS
from fretloom.notation.syntax.parsing.grammar import START_RULES

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
    for rule in ("body_line", "bar", "form_line"):
        found = word_help(rule, "fermata")
        assert found is not None and found.says == "the beat waits there"
    assert word_help("body_line", "plain") is None
