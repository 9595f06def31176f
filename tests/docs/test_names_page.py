"""The page of names lists what the program knows: nothing is missing, and nothing else stands there."""

from __future__ import annotations

import re
from typing import get_args

import pytest
from places import PROJECT
from snippets import table_rows

from fretloom.notation.model.heading import HandSize, Level, Naming
from fretloom.trade.guitar import instruments, tunings
from fretloom.trade.harmony.key_names import read_key
from fretloom.trade.harmony.symbol import parse_symbol
from fretloom.trade.music.key import MODES
from fretloom.trade.playability.reach import LENGTHS
from fretloom.trade.wording import PICKING_FINGER_WORDS

PAGE = (PROJECT / "docs" / "reference" / "names.md").read_text(encoding="utf-8")
SECTIONS = dict(re.findall(r"^## ([\w ]+)\n(.*?)(?=^## |\Z)", PAGE, re.M | re.S))


def rows(section: str) -> list[list[str]]:
    return table_rows(SECTIONS[section])


def words(cell: str) -> list[str]:
    return re.findall(r"`([^`]+)`", cell)


def others(table: dict[str, str], name: str) -> str:
    return ", ".join(f"`{other}`" for other, meant in table.items() if meant == name)


def test_every_instrument_is_listed_with_its_measures() -> None:
    """In the order of the table, with its other names."""
    assert rows("Instruments") == [
        [
            f"`{one.name}`",
            str(one.strings),
            f"{one.scale:g} mm",
            str(one.frets),
            str(one.free),
            others(instruments.OTHER_NAMES, one.name),
        ]
        for one in instruments.INSTRUMENTS
    ]


def test_every_tuning_is_listed_with_its_strings() -> None:
    """In the order of the table, with its other names."""
    assert rows("Tunings") == [
        [f"`{name}`", f"`{strings}`", others(tunings.OTHER_NAMES, name)]
        for name, strings in tunings.NAMED.items()
    ]


def test_levels_hands_and_namings_are_listed() -> None:
    """The words that the heading takes, and the lengths of the hands."""
    assert [row[0] for row in rows("Levels")] == [f"`{level}`" for level in get_args(Level)]
    assert [row[0] for row in rows("Ways to name notes")] == [
        f"`{one}`" for one in get_args(Naming)
    ]
    assert rows("Hands") == [[f"`{one}`", f"{LENGTHS[one]:g} mm"] for one in get_args(HandSize)]


@pytest.mark.parametrize("row", rows("Ways to name notes"), ids=lambda row: row[0].strip("`"))
def test_notes_and_keys_are_named_as_the_page_says(row: list[str]) -> None:
    """C sharp, B flat and B; A minor and F sharp minor; the keys, written back in English."""
    (naming,) = words(row[0])
    assert [parse_symbol(one, naming).canonical for one in words(row[1])] == ["C#", "Bb", "B"]
    minors = [parse_symbol(one, naming).canonical for one in words(row[2])]
    assert sorted(set(minors)) == ["Am", "F#m"]
    assert {str(read_key(one, naming)) for one in words(row[3])} <= {"A", "F#m", "Bb", "D dorian"}


def test_the_modes_are_listed() -> None:
    """All that a key can have."""
    (line,) = re.findall(r"^A key may be (.*)\.$", PAGE, re.M)
    assert words(line) == list(MODES)


@pytest.mark.parametrize("row", rows("Chords"), ids=lambda row: row[0].strip("`"))
def test_chords_have_the_notes_of_the_page(row: list[str]) -> None:
    """The name and the others mean the same; the notes are common practice, no source."""
    chord = parse_symbol(row[0].strip("`"))
    assert chord.canonical == row[0].strip("`")
    assert " ".join(map(str, chord.notes)) == row[1]
    assert [parse_symbol(other) == chord for other in words(row[2])] == [True] * len(words(row[2]))


def test_other_chords_of_the_page_are_read() -> None:
    """Those that are named in passing."""
    (line,) = re.findall(r"all others are read too \((.*)\)\.", PAGE)
    assert len({parse_symbol(one).canonical for one in words(line)}) == 6


def test_the_letters_of_the_fingers_are_listed() -> None:
    """Plucking fingers as messages call them; fretting fingers with the signs of the grammar's `HAND`."""
    found = {row[0].strip("`"): row[1] for row in rows("Fingers")}
    plucking = {letter: f"the {found[letter]}" for letter in PICKING_FINGER_WORDS}
    assert plucking == PICKING_FINGER_WORDS
    assert list(found)[len(plucking) :] == ["1", "2", "3", "4", "T"]
