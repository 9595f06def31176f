"""Pitches: MIDI numbers, frequencies, spelling."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fretloom.errors import SymbolError
from fretloom.trade.music.pitch import NoteName, awkward, fifths_of, parse_pitch, spell

#: Equal-tempered scale with A4 = 440 Hz, in hertz to two decimals: "Frequencies of Musical Notes",
#: Physics of Music, Michigan Technological University (from memory; some tables cut instead of rounding).
FREQUENCIES = {
    "C2": 65.41, "D2": 73.42, "E2": 82.41, "F2": 87.31, "G2": 98.00, "A2": 110.00, "B2": 123.47,
    "C3": 130.81, "D3": 146.83, "E3": 164.81, "F3": 174.61, "G3": 196.00, "A3": 220.00, "B3": 246.94,
    "C4": 261.63, "C#4": 277.18, "D4": 293.66, "Eb4": 311.13, "E4": 329.63, "F4": 349.23,
    "F#4": 369.99, "G4": 392.00, "G#4": 415.30, "A4": 440.00, "Bb4": 466.16, "B4": 493.88, "C5": 523.25,
    "E5": 659.25, "A5": 880.00, "C8": 4186.01,
}  # fmt: skip

#: MIDI 1.0 puts middle C at 60; the octave number goes with the letter (scientific pitch notation).
NUMBERS = {
    "C-1": 0, "A0": 21, "E2": 40, "A2": 45, "D3": 50, "G3": 55, "B3": 59, "E4": 64, "A4": 69, "C8": 108,
    "G9": 127, "B#3": 60, "C4": 60, "Cb4": 59, "E#2": 41, "Fb3": 52, "C##4": 62, "Dbb4": 60, "B##3": 61,
}  # fmt: skip


@pytest.mark.parametrize(("text", "hertz"), FREQUENCIES.items())
def test_frequencies_of_a_published_table(text, hertz):
    """Every note has the frequency that the table prints."""
    assert parse_pitch(text).frequency == pytest.approx(hertz, abs=0.01)


@pytest.mark.parametrize(("text", "number"), NUMBERS.items())
def test_midi_numbers(text, number):
    """Letters, accidentals and octaves give the numbers of the MIDI specification."""
    assert parse_pitch(text).midi == number


@pytest.mark.parametrize("text", ["", "E", "e2", "H2", "E2 ", "E#b2", "E200", "2E", "é2"])
def test_what_is_no_pitch(text):
    """Text that names no note with an octave is refused."""
    with pytest.raises(SymbolError):
        parse_pitch(text)


@given(st.integers(0, 127), st.booleans())
def test_spelling_keeps_the_number(midi, sharps):
    """A spelled number is the same number, with one accidental at most, and reads back."""
    pitch = spell(midi, sharps)
    assert pitch.midi == midi
    assert abs(pitch.alter) <= 1
    assert parse_pitch(str(pitch)) == pitch


def test_line_of_fifths():
    """Each fifth up is one step on the line (standard theory)."""
    line = ["Bb", "F", "C", "G", "D", "A", "E", "B", "F#", "C#"]
    places = [fifths_of(NoteName(text[0], {"": 0, "#": 1, "b": -1}[text[1:]])) for text in line]
    assert places == list(range(-2, 8))


def test_awkward_names():
    """Notes that have a plainer name are reported from those that have not."""
    assert [awkward(NoteName(*note)) for note in (("E", 1), ("C", -1), ("F", 1), ("G", 2))] == [
        True, True, False, True,
    ]  # fmt: skip
