"""Ready instruments and the instrument a tuning is usually found on."""

from __future__ import annotations

import pytest

from fretloom.trade.guitar.instruments import (
    INSTRUMENTS,
    find_instrument,
    neck_of,
    usual_instrument,
)
from fretloom.trade.guitar.tuning import Tuning
from fretloom.trade.music.pitch import parse_pitch


def _tuning(text: str) -> Tuning:
    return Tuning(tuple(parse_pitch(note) for note in text.split()))


@pytest.mark.parametrize("instrument", INSTRUMENTS, ids=lambda one: one.name)
def test_measures_are_those_of_an_instrument(instrument) -> None:
    """Strings are 5 to 11 mm apart at the nut, further at the bridge; the body leaves some frets."""
    apart = instrument.nut / (instrument.strings - 1)
    assert 5 < apart < 11
    assert instrument.bridge > instrument.nut
    assert instrument.free <= instrument.frets
    assert instrument.source in ("L", "M")
    assert find_instrument(instrument.name) is instrument


@pytest.mark.parametrize(
    ("tuning", "name"),
    [
        ("E2 A2 D3 G3 B3 E4", "steel string"),
        ("G4 C4 E4 A4", "concert ukulele"),
        ("B1 E2 A2 D3 G3 B3 E4", "7-string"),
        ("B1 E2 A2 D3 F#3 B3", "baritone"),
    ],
)
def test_tuning_tells_the_instrument(tuning: str, name: str) -> None:
    """A lesson that names no instrument has the usual one for its tuning."""
    assert usual_instrument(_tuning(tuning)).name == name


def test_more_strings_keep_their_distance() -> None:
    """A neck with another number of strings has them as far apart."""
    steel = INSTRUMENTS[0]
    assert neck_of(steel, strings=7).spacing(3) == pytest.approx(
        neck_of(steel, strings=6).spacing(3)
    )


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("  Steel  String ", "steel string"),
        ("steel-string guitar", "steel string"),
        ("guitar", "steel string"),
        ("twelve string", "12-string"),
        ("Twelve-String Guitar", "12-string"),
        ("12 string", "12-string"),
        ("eight-string", "8-string"),
        ("tenor guitar", "tenor guitar"),
        ("nylon-string guitar", "classical"),
        ("ukulele", "soprano ukulele"),
    ],
)
def test_names_are_found_however_they_are_written(written: str, name: str) -> None:
    """Case, spaces, hyphens, the word guitar and numbers in words do not matter."""
    found = find_instrument(written)
    assert found is not None
    assert found.name == name


@pytest.mark.parametrize("written", ["kazoo", "", "guitar guitar tuning", "tenor ukulele guitar x"])
def test_other_names_are_not_found(written: str) -> None:
    """An unknown name is None, not a guess."""
    assert find_instrument(written) is None
