"""The sheet to print has every word of the notation, spelled right, and fits its page."""

from __future__ import annotations

import re
from math import ceil

import pytest
from places import PROJECT
from snippets import faults_of, keywords, table_rows

PAGE = (PROJECT / "docs" / "reference" / "notation-sheet.md").read_text(encoding="utf-8")
SECTIONS = dict(re.findall(r"^## ([\w ,]+)\n(.*?)(?=^## |\Z)", PAGE, re.M | re.S))
#: Where the pieces of a group can stand.
GROUPS = {
    "Heading": ("heading",),
    "Other files, own strings": ("first line", "block", "picking"),
    "Voicings": ("voicings", "behind a voicing", "behind a derived voicing"),
    "Patterns": ("in a pattern", "patterns"),
    "Words behind a pluck": ("in a pattern",),
    "Bars": ("in a section",),
    "Counts": ("on a count",),
    "Lines of a section": ("in a section", "in a repeat", "block"),
    "Form": ("form", "below an entry"),
    "Steps": ("step",),
    "Comments": ("block", "behind a bar"),
}
#: Other forms of ritardando, accelerando, crescendo and diminuendo.
SHORTER = {"rit", "rall", "rallentando", "accel", "cresc", "dim", "decresc", "decrescendo"}
PIECES = [
    pytest.param(group, piece, id=piece)
    for group in GROUPS
    for row in table_rows(SECTIONS[group])
    for piece in re.findall("`([^`]+)`", row[0])
]
#: Signs in a line of the two cells of a row, and lines of rows in both columns of the page: printed with
#: a browser, on A4, where the page began to have a second one.
CODE, WORDS, LINES = 37, 40, 138


def lines_of(row: list[str]) -> int:
    """Return about how many lines a row takes on paper: pieces stay whole, words are broken."""
    lines, filled = 1, 0
    for piece in re.findall("`([^`]+)`", row[0]):
        filled += len(piece) + 1
        if filled > CODE + 1 and filled > len(piece) + 1:
            lines, filled = lines + 1, len(piece) + 1
    words = re.sub(r"\]\([^)]*\)|[`\[]", "", row[1])
    return max(lines, ceil(len(words) / WORDS))


@pytest.mark.parametrize(("group", "piece"), PIECES)
def test_pieces_are_spelled_right(group: str, piece: str) -> None:
    """Each can stand in one of the places that its group is about."""
    found = {place: faults_of(place, piece) for place in GROUPS[group]}
    assert [] in found.values(), found


def test_every_word_of_the_notation_is_there() -> None:
    """In a piece or in the lesson; not the shorter forms that canonical text writes out."""
    missing = {word for word in keywords() if not re.search(rf"\b{word}\b", PAGE)}
    assert missing == SHORTER


def test_every_group_is_tried() -> None:
    """All but the lesson, which is checked with those of the other pages."""
    assert set(SECTIONS) - {"A lesson"} == set(GROUPS)


def test_the_sheet_fits_its_page() -> None:
    """By what was measured on paper; a heading takes a line and a half."""
    rows = sum(lines_of(row) for row in table_rows(PAGE))
    lesson = SECTIONS["A lesson"].count("\n") * 0.75
    assert rows + 1.5 * len(SECTIONS) + lesson < LINES
