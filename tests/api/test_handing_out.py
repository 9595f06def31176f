"""The page of a collection, as a program makes it: what it takes."""

from __future__ import annotations

import pytest

import fretloom
from fretloom.errors import FretloomError

LESSON = fretloom.loads('lesson "Weir"\nvoicings\n  C x32010\nsection verse\n  C { p, -, -, - }\n')


@pytest.mark.parametrize(
    ("lesson", "files", "said"),
    [
        ("weir.lesson", [("handout", "a.html")], "^lesson is a Lesson"),
        (LESSON, "a.html", "^files is a list of words and files, not str"),
        (LESSON, 7, "^files is a list of words and files, not int"),
        (LESSON, ["a.html"], "^files has pairs of text"),
        (LESSON, [("handout", 7)], "^files has pairs of text"),
    ],
)
def test_what_is_wrong_with_an_entry_is_named(lesson: object, files: object, said: str) -> None:
    with pytest.raises(TypeError, match=said):
        fretloom.handout_entry(lesson, files)


@pytest.mark.parametrize("way", ["javascript:alert(1)", " JavaScript:x", "https://x", "//x/a.html"])
def test_an_address_that_leads_elsewhere_is_refused(way: str) -> None:
    with pytest.raises(FretloomError, match=r"^files has the names of files beside the page, not "):
        fretloom.handout_entry(LESSON, [("handout", way)])


def test_names_of_files_are_quoted() -> None:
    """As RFC 3986 has it; a colon in a name is no scheme."""
    entry = fretloom.handout_entry(LESSON, [("handout", "x/a b#c.html"), ("more", "Rain: 2%.html")])
    assert [way for _, way in entry.files] == ["x/a%20b%23c.html", "Rain%3A%202%25.html"]


@pytest.mark.parametrize(
    ("entries", "title", "said"),
    [(7, "T", "^entries is"), (["a"], "T", "^entries are made by"), ([], 7, "^title is a str")],
)
def test_what_is_wrong_with_an_index_is_named(entries: object, title: object, said: str) -> None:
    with pytest.raises(TypeError, match=said):
        fretloom.handout_index(entries, title)
