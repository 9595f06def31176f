"""Pitches are named as key and chord want them, and accidentals stand where they are needed."""

from __future__ import annotations

import music21
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fretloom.engraving.spelling import Shown, needs_accidental, signature_alter, spell_in_key
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
        (63, "Bbm", "B7", "D#4"),
        (63, "Bbm", "", "Eb4"),
        (61, "A", "Bbm", "Db4"),
        (65, "C", "C#7", "E#4"),
        (69, "C", "Cdim7", "A4"),
        (67, "C#m", "D#7", "F##4"),
        (60, "Db", "F#m7b5", "C4"),
    ],
)
def test_names_follow_key_and_chord(midi: int, key: str, chord: str, name: str):
    """The chord first, then the scale, then the usual raised and lowered degrees (common practice)."""
    notes = parse_symbol(chord).notes if chord else ()
    assert str(spell_in_key(midi, parse_key(key).fifths, notes)) == name


@pytest.mark.parametrize("fifths", range(-7, 8))
@pytest.mark.parametrize(
    "symbol",
    ["B7", "Bb", "C#m7b5", "Eb7", "F#", "Abm", "E7#9", "G7b9", "Dmaj7", "Gbm6", "A#m", "D#7"],
)
def test_a_chord_is_spelled_as_music21_spells_it(symbol: str, fifths: int):
    """In every key, all but double accidentals, against music21's `ChordSymbol`."""
    notes = parse_symbol(symbol).notes
    figure = symbol[0] + symbol[1:2].replace("b", "-") + symbol[2:]
    for pitch in music21.harmony.ChordSymbol(figure).pitches:
        if abs(pitch.alter) < 2:
            name = spell_in_key(pitch.midi, fifths, notes)
            assert str(name) == pitch.nameWithOctave.replace("-", "b")


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
    shown: Shown = {}
    assert [needs_accidental(parse_pitch(note), 0, shown) for note in notes] == [
        True, False, True, True, False, True,
    ]  # fmt: skip
