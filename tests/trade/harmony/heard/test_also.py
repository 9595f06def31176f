"""The names that a teacher would say as well."""

from __future__ import annotations

import pytest

from fretloom.trade.harmony.heard.also import said_names
from fretloom.trade.harmony.symbol import parse_symbol
from fretloom.trade.music.key import parse_key


def guitar(frets: str) -> list[int]:
    opens = zip((40, 45, 50, 55, 59, 64), frets, strict=True)
    return [note + int(fret) for note, fret in opens if fret != "x"]


def said(name: str, frets: str, key: str = "") -> list[str]:
    names = said_names(guitar(frets), parse_key(key) if key else None, parse_symbol(name))
    return [str(one) for one in names if str(one) != name]


@pytest.mark.parametrize(
    ("name", "frets"),
    [("E", "022100"), ("C", "x32010"), ("G", "320003"), ("D", "xx0232"), ("Am", "x02210"), ("F", "133211"),
     ("D/F#", "200232"), ("C/E", "032010"), ("G/B", "x20003"), ("Am/E", "002210"), ("C7", "x32310"), ("G7", "320001"),
     ("E7#9", "076780"), ("Dsus4", "xx0233"), ("C9", "x32333")],
)  # fmt: skip
def test_a_plain_chord_has_no_second_name(name, frets):
    """No G#m/E for E, no A5/C, E/C or D5/F#, nothing without its root (common practice, no source)."""
    assert said(name, frets) == []


@pytest.mark.parametrize(
    ("name", "frets", "others"),
    [("Cmaj7", "x32000", ["Em/C"]), ("Am7", "x02010", ["C/A", "C6/A"]), ("C6", "x3221x", ["Am/C"]),
     ("F/G", "3x3211", ["G11", "G9sus4"]), ("Am6", "x02212", ["F#m7b5/A", "D9 without its root"]),
     ("Am/F#", "202210", ["F#m7b5", "Am6/F#", "D9 without its root"]),
     ("Dm#5", "xx0331", ["Bb/D", "Dm(b6)"]), ("Dm", "xx0331", ["Bb/D", "Dm(b6)"]), ("Bb/D", "xx0331", [])],
)  # fmt: skip
def test_two_names_for_the_same_notes(name, frets, others):
    """What a teacher explains: Am7 is C6, and D F Bb is Dm(b6) where a line moves over D minor (from memory)."""
    assert said(name, frets) == others


@pytest.mark.parametrize(
    ("name", "frets", "key", "other"),
    [("Bmaj7", "x24342", "", "D#m/B"), ("Gbmaj7", "2x332x", "", "Bbm/Gb"), ("Bmaj7", "x24342", "Gb", "Ebm/B"),
     ("Abmaj7", "4x554x", "", "Cm/Ab"), ("C#m7", "x46454", "", "E/C#"), ("Dbmaj7", "x43111", "", "Fm/Db")],
)  # fmt: skip
def test_spelled_by_the_key_or_by_the_chord(name, frets, key, other):
    """Bmaj7 holds D sharp, so its other name begins on it; a stated key decides before that (standard theory)."""
    assert said(name, frets, key)[0] == other


@pytest.mark.parametrize("notes", [(48, 52, 54), (50, 52, 58), (49, 55, 59)])
def test_a_ninth_chord_without_root_and_fifth_is_not_said(notes):
    """C, E and F# are two notes short of D9: too little to hear it (common practice, no source)."""
    assert not [one for one in said_names(notes) if one.rootless]
