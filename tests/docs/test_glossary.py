"""The glossary has a row for every word of the notation and of the trade, and its examples are spelled right."""

from __future__ import annotations

import re

import pytest
from places import PROJECT
from snippets import keywords, places_of, table_rows

PAGE = (PROJECT / "docs" / "reference" / "glossary.md").read_text(encoding="utf-8")
SECTIONS = dict(re.findall(r"^## ([\w ]+)\n(.*?)(?=^## |\Z)", PAGE, re.M | re.S))
#: What teachers and developers ask for (from memory).
ASKED = """accent, bar, barre, bass order, beat, brush, canonical text, capo, count, cue, dead note, ending,
finding, form, harmonic (natural), hop, meter, partial capo, pass, pattern, pickup, pinch, playing, pluck, ring,
roll, section, share, slur, span, step, swing, tag, timeline, tuning, voicing, waiver, walk"""


def rows(section: str) -> list[list[str]]:
    return table_rows(SECTIONS[section])


def test_every_word_of_the_notation_has_a_row_and_no_other_has() -> None:
    """A word that the grammar has lost is as wrong as one that it has won."""
    shown = [
        word for row in rows("Words of the notation") for word in re.findall(r"[a-z]+", row[0])
    ]
    assert set(shown) == keywords()


def test_what_people_ask_for_has_a_row() -> None:
    """In one of the tables."""
    shown = {row[0] for section in SECTIONS for row in rows(section)}
    assert set(re.split(r",\s+", ASKED)) - shown == set()


@pytest.mark.parametrize("section", SECTIONS)
def test_rows_are_in_order_and_say_something(section: str) -> None:
    """By the alphabet, each word once, one or two sentences each."""
    found = rows(section)
    names = [row[0].strip("`") for row in found]
    if section != "Words of findings and of the program":
        assert names == sorted(names, key=str.lower)
    assert len(set(names)) == len(names)
    said = 2 if section == "Words of the notation" else 1
    assert all(5 < len(row[said]) < 200 for row in found)


@pytest.mark.parametrize(
    "row", [row for row in rows("Words of the trade") if row[2]], ids=lambda row: row[0]
)
def test_examples_are_spelled_right(row: list[str]) -> None:
    """Each can stand somewhere in a lesson."""
    assert re.fullmatch("`[^`]+`", row[2])
    assert places_of(row[2].strip("`"))


@pytest.mark.parametrize(
    ("piece", "places"),
    [
        ("p+a", ["in a pattern"]),
        ("capo 3", ["heading"]),
        ("using plain", ["behind a section", "behind a bar"]),
        ("p ; m", []),
        ("capo three", []),
        ("show it", []),
        ("barre E", []),
    ],
)
def test_pieces_have_their_places(piece: str, places: list[str]) -> None:
    """No place takes whatever comes."""
    assert places_of(piece) == places
