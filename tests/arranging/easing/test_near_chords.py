"""Chords that stand in for others."""

from __future__ import annotations

import pytest

from fretloom.arranging.easing.near_chords import near_chords
from fretloom.trade.harmony.symbol import parse_symbol
from fretloom.trade.music.key import parse_key


def near(chord: str, key: str = "", naming: str = "english") -> list[str]:
    """Return the names of near chords."""
    found = near_chords(parse_symbol(chord, naming), naming, parse_key(key) if key else None)
    return [one.text for one in found]


@pytest.mark.parametrize(
    ("chord", "first"),
    [("F", "Fmaj7"), ("Bm", "Bm7"), ("F#m", "F#m7"), ("C9", "C7"), ("C/G", "C"), ("Bbmaj7", "Bb")],
)
def test_what_teachers_give_in_its_place(chord: str, first: str) -> None:
    """Common practice, no source."""
    assert near(chord)[0] == first


def test_on_the_fifth_step_it_is_the_seventh_chord() -> None:
    """B in E wants to go home as B7 does; a major seventh would not."""
    assert near("B", "E")[0] == "B7"
    assert near("B", "F#")[0] == "Bmaj7"


def test_names_are_as_the_lesson_names_notes() -> None:
    """H is B natural in German naming, and B is B flat."""
    assert near("Hm", naming="german")[0] == "Hm7"
    assert near("B", naming="german")[0] == "Bmaj7"


@pytest.mark.parametrize("chord", ["N.C.", "C5"])
def test_some_have_none(chord: str) -> None:
    """Silence, and a chord that has neither third."""
    assert near(chord) == []


def test_all_have_the_root() -> None:
    """Whatever else changes."""
    for chord in ("F", "Gm", "A7", "Ebm7b5", "Caug", "F#13", "D/F#"):
        symbol = parse_symbol(chord)
        assert {parse_symbol(one).root for one in near(chord)} == {symbol.root}
