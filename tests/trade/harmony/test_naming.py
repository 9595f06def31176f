"""Naming what sounds."""

from __future__ import annotations

from collections.abc import Iterable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fretloom.trade.guitar.tunings import parse_tuning
from fretloom.trade.harmony.fit import fit
from fretloom.trade.harmony.naming import names_of
from fretloom.trade.music.key import Key, parse_key


def best_name(sounding: Iterable[int], key: Key | None = None) -> str:
    """Return the first name as text, empty if there is none."""
    return str(next(iter(names_of(sounding, key)), ""))


@pytest.mark.parametrize(
    ("notes", "name"),
    [
        ([48, 52, 55, 60, 64], "C"), ([52, 55, 60], "C/E"), ([46, 52, 55, 60, 64], "C/Bb"),
        ([40, 47, 52, 56, 59, 64], "E"), ([40, 47, 50, 56, 59, 64], "E7"), ([43, 50, 57, 59], "Gadd9"),
        ([45, 52, 57, 60, 64, 66], "Am6"), ([57, 60, 64, 67], "Am7"), ([48, 52, 55, 57], "C6"),
        ([47, 50, 53, 57], "Bm7b5"), ([47, 50, 53, 56], "Bdim7"), ([48, 52, 56], "Caug"),
        ([40, 47, 52], "E5"), ([48, 52, 58, 62], "C9"), ([48, 52, 58], "C7"), ([42, 50, 57, 62], "D/F#"),
    ],
)  # fmt: skip
def test_first_name(notes, name):
    """The name a guitarist would give first (standard theory; the order is common practice)."""
    assert best_name(notes) == name


# Public pages on these tunings; the octaves are arithmetic from E2 to E4.
@pytest.mark.parametrize(
    ("tuning", "capo", "name"),
    [("open D", 0, "D"), ("DADGAD", 0, "Dsus4"), ("open G", 0, "G/D"), ("open D", 2, "E")],
)
def test_open_strums(tuning, capo, name):
    """Open tunings strummed open sound the chord they are called after."""
    assert best_name(pitch.midi + capo for pitch in parse_tuning(tuning).pitches) == name


# Arithmetic; pages on B tuning for the instruments.
@pytest.mark.parametrize(
    ("tuning", "frets", "name"), [("7-string", "x022000", "Em"), ("baritone", "022100", "B")]
)
def test_other_instruments(tuning, frets, name):
    """A shape on seven strings or on a baritone is named by what it sounds."""
    pitches = parse_tuning(tuning).pitches
    pairs = zip(pitches, frets, strict=True)
    assert best_name(pitch.midi + int(fret) for pitch, fret in pairs if fret != "x") == name


def test_several_right_names():
    """C6 with A lowest is Am7, and the other name is given too."""
    names = [str(name) for name in names_of([45, 52, 55, 60])]
    assert names[0] == "Am7"
    assert "C6/A" in names[:3]


def test_left_out_root_is_said():
    """A rootless name says so."""
    names = names_of([52, 58, 62, 67])
    assert "C9 without its root" in [str(name) for name in names]


def test_key_decides_the_spelling():
    """The same tone is spelled by the key: G#m in E, Abm in Gb."""
    notes = [44, 47, 51]
    assert best_name(notes, parse_key("E")) == "G#m"
    assert best_name(notes, parse_key("Gb")) == "Abm"
    assert best_name([46, 50, 53], parse_key("F")) == "Bb"


def test_one_note_has_no_name():
    """A single tone, or silence, is not a chord."""
    assert names_of([40, 52]) == ()
    assert best_name([]) == ""


@given(st.lists(st.integers(30, 90), min_size=1, max_size=7))
def test_every_name_fits_what_sounds(notes):
    """Whatever sounds, each name given is accepted by the comparison, and has no double accidental root."""
    for name in names_of(notes):
        found = fit(name.symbol, notes)
        assert found.accepted
        assert found.rootless == name.rootless
        assert abs(name.symbol.root.alter) <= 1
