"""What of a lesson documentation shows: texts, drawings, and words for them."""

from __future__ import annotations

import pytest
from lxml import etree
from places import EXAMPLES

from fretloom.api import examine, excerpt, load, text_of
from fretloom.frontends.sphinx_directive.shown import (
    SHOWN,
    ShownDrawing,
    ShownText,
    each_text_once,
    pieces,
)

WHOLE = examine(load(EXAMPLES / "rain-on-slate.lesson"))
PART = examine(excerpt(WHOLE.lesson, "gully", (1, 2)))


def drawing(what: str) -> ShownDrawing:
    """Return the one drawing of a part."""
    (found,) = pieces(PART, what, whole=False)
    assert isinstance(found, ShownDrawing)
    return found


@pytest.mark.parametrize("what", ["drawn-tab", "shapes", "changes"])
def test_a_drawing_has_words_a_text_and_a_ground_of_its_own(what: str) -> None:
    """A page in the dark does not have to know what it shows: the drawing is one for paper."""
    found = drawing(what)
    root = etree.fromstring(found.svg.encode())
    assert [child.tag.rpartition("}")[2] for child in root][:2] == ["title", "rect"]
    assert "prefers-color-scheme" not in found.svg
    assert "Gsus2" in found.words
    assert "Gsus2" in found.text
    assert max(map(len, found.text.splitlines())) <= 80


def test_words_say_what_is_drawn() -> None:
    """In a few shapes every string; of many only what they are."""
    assert "string 6 ring at fret 5" in drawing("shapes").words
    (many,) = pieces(WHOLE, "shapes", whole=True)
    assert isinstance(many, ShownDrawing)
    assert many.words == "Shapes of Rain on Slate"


def test_texts_are_those_of_the_lesson() -> None:
    """The source as it is written, and the tab of the part alone."""
    (source,), (tab,) = pieces(WHOLE, "source", True), pieces(PART, "tab", False)
    assert isinstance(source, ShownText) and isinstance(tab, ShownText)
    assert source == ShownText(text_of(WHOLE.lesson).strip("\n"), "fretloom")
    assert "Gully" in tab.text and "Roof" not in tab.text


def test_a_text_stands_once() -> None:
    """Where the tab is shown anyway, no drawing is given by it a second time."""
    shown = [one for what in ("drawn-tab", "tab", "drawn-tab") for one in pieces(PART, what, False)]
    assert [bool(one.text) for one in each_text_once(shown)] == [False, True, False]
    twice = [one for what in ("drawn-tab", "drawn-tab") for one in pieces(PART, what, False)]
    assert [bool(one.text) for one in each_text_once(twice)] == [True, False]


def test_a_whole_score_is_on_pages_and_a_part_in_one_line() -> None:
    """A4 is 210 millimetres wide (ISO 216); a part is as wide as its bars."""
    page = next(iter(pieces(WHOLE, "score", whole=True)))
    assert isinstance(page, ShownDrawing)
    assert 'width="210mm"' in page.svg
    assert 'width="210mm"' not in drawing("score").svg


def test_every_word_shows_something() -> None:
    """No word is without a picture or a text, and notation comes from the extra for pictures."""
    for what in SHOWN:
        assert list(pieces(PART, what, whole=False)), what
