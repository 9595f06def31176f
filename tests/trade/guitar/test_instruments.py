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


def test_names_are_found_however_they_are_spaced() -> None:
    """Case and spaces do not matter; an unknown name is None."""
    assert find_instrument("  Steel  String ") is INSTRUMENTS[0]
    assert find_instrument("kazoo") is None
