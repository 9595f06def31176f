"""The glossary has a row for every word of the notation and of the trade, and its examples are spelled right."""

from __future__ import annotations

import re

import pytest
from places import PROJECT
from snippets import keywords, places_of, table_rows

from fretloom.notation.syntax.parsing.techniques import WrongWord, read_technique

PAGE = (PROJECT / "docs" / "reference" / "glossary.md").read_text(encoding="utf-8")
SECTIONS = dict(re.findall(r"^## ([\w ]+)\n(.*?)(?=^## |\Z)", PAGE, re.M | re.S))
#: What teachers and developers ask for (from memory).
ASKED = """accent, bar, barre, bass order, beat, brush, canonical text, capo, count, cue, dead note, dynamic, ending,
fermata, finding, form, ghost note, grace note, harmonic (natural), hop, meter, partial capo, pass, pattern, pickup, pinch, playing, pluck, ring,
roll, section, share, slap, slur, span, step, swing, tag, timeline, trill, tuning, vibrato, voicing, waiver, walk"""


def rows(section: str) -> list[list[str]]:
    return table_rows(SECTIONS[section])


def test_every_word_of_the_notation_has_a_row_and_no_other_has() -> None:
    """A word that the grammar has lost is as wrong as one that it has won."""
    shown = [
        word for row in rows("Words of the notation") for word in re.findall(r"[a-z]{2,}", row[0])
    ]
    assert set(shown) == keywords()


def test_every_word_behind_a_pluck_has_a_row_and_no_other_has() -> None:
    """The reader lists them when it is given one that says nothing."""
    wrong = read_technique(".nonsense")
    assert isinstance(wrong, WrongWord)
    known = set(re.findall(r"\.([a-z]+)", wrong.hint))
    shown = [row[0].strip("`") for row in rows("Words behind a pluck")]
    assert {word.split("-")[0] for word in shown} == known
    assert [word for word in shown if isinstance(read_technique(f".{word}"), WrongWord)] == []


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
        ("fingers .32.1.", ["behind a voicing", "behind a derived voicing"]),
        ("p ; m", []),
        ("capo three", []),
        ("show it", []),
        ("barre E", []),
    ],
)
def test_pieces_have_their_places(piece: str, places: list[str]) -> None:
    """No place takes whatever comes."""
    assert places_of(piece) == places
