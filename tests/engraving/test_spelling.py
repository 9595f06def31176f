"""Pitches are named as key and chord want them, and accidentals stand where they are needed."""

from __future__ import annotations

import music21
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fretloom.engraving.spelling import accidentals, signature_alter, spell_in_key
from fretloom.trade.harmony.symbol import parse_symbol
from fretloom.trade.music.key import parse_key
from fretloom.trade.music.pitch import STEPS, parse_pitch


@pytest.mark.parametrize(
    ("midi", "key", "chord", "name"),
    [
        (61, "D", "", "C#4"),
        (61, "Ab", "", "Db4"),
        (68, "C", "E7", "G#4"),
        (68, "C", "Fm", "Ab4"),
        (66, "C", "", "F#4"),
        (70, "C", "", "Bb4"),
        (68, "Am", "", "G#4"),
        (65, "F#", "", "E#4"),
        (59, "Gb", "", "Cb4"),
        (60, "C#", "", "B#3"),
        (63, "E", "B7", "D#4"),
        (62, "E", "Bm7", "D4"),
        (64, "Eb", "C7", "E4"),
    ],
)
def test_names_follow_key_and_chord(midi: int, key: str, chord: str, name: str):
    """The scale first, then the chord, then the usual raised and lowered degrees (common practice)."""
    notes = parse_symbol(chord).notes if chord else ()
    assert str(spell_in_key(midi, parse_key(key).fifths, notes)) == name


@given(st.integers(20, 100), st.integers(-7, 7))
def test_the_name_has_the_pitch(midi: int, fifths: int):
    """Whatever the key, the spelled note is the same MIDI number."""
    assert spell_in_key(midi, fifths).midi == midi


@pytest.mark.parametrize("fifths", range(-7, 8))
def test_signatures_are_those_of_music21(fifths: int):
    """Which steps a signature alters, against music21's `KeySignature`."""
    signature = music21.key.KeySignature(fifths)
    for step in STEPS:
        accidental = signature.accidentalByStep(step)
        assert signature_alter(step, fifths) == (accidental.alter if accidental else 0)


def test_an_accidental_holds_to_the_bar_line_in_its_octave():
    """F# in C: once in the bar, again in another octave, and a natural to take it back."""
    notes = ["F#4", "F#4", "F#5", "F4", "F4", "F#4"]
    assert accidentals(map(parse_pitch, notes), 0) == [
        True, False, True, True, False, True,
    ]  # fmt: skip
