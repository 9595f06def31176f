"""Chord symbols compared with music21, a reader written by others."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from music21 import harmony

from fretloom.formats.musicxml.kinds import musicxml_kind
from fretloom.trade.harmony.naming import usual_suffixes
from fretloom.trade.harmony.symbol import parse_symbol

ROOTS = [
    "C",
    "C#",
    "Db",
    "D",
    "D#",
    "Eb",
    "E",
    "F",
    "F#",
    "Gb",
    "G",
    "G#",
    "Ab",
    "A",
    "A#",
    "Bb",
    "B",
]

#: What music21 10.5.1 gets wrong without saying so, and why its answer cannot be right.
WRONG_THERE = {
    "13b9": "it answers C13 with its natural ninth D: the flat ninth is dropped",
    "13#9": "it answers C13 with its natural ninth D: the sharp ninth is dropped",
    "13#11": "it answers C13 with its natural eleventh F: the sharp eleventh is dropped",
    "69": "it answers C A D: a six-nine chord has a third and a fifth",
}
#: What it refuses to read.
REFUSED_THERE = {
    "maj9", "6/9", "m6/9", "9sus4", "m(maj7)", "maj13", "13sus4", "m(maj9)", "dim(maj7)", "maj11",
    "maj9#11", "m(maj11)", "7sus2", "maj7sus4", "maj7sus2", "sus2sus4", "(b5)", "m(b6)", "6sus4", "6sus2",
}  # fmt: skip
TRADE = [
    "M7",
    "M9",
    "M11",
    "M13",
    "mM7",
    "mM9",
    "min7",
    "ø7",
    "o7",
    "+",
    "+7",
    "sus",
    "7sus",
    "add2",
    "add4",
]
READABLE = [
    suffix for suffix in (*usual_suffixes(), *TRADE) if suffix not in {*WRONG_THERE, *REFUSED_THERE}
]


def read_elsewhere(figure: str) -> set[int]:
    """Pitch classes of a figure as music21 reads it; it writes flat roots with a minus."""
    root = figure[:2] if figure[1:2] in ("#", "b") else figure[:1]
    figure = root.replace("b", "-") + figure[len(root) :]
    return {pitch.pitchClass for pitch in harmony.ChordSymbol(figure).pitches}


@pytest.mark.parametrize("suffix", READABLE)
def test_text_means_the_same_elsewhere(suffix):
    """On every root, in both spellings, the text has the pitch classes that music21 finds."""
    for root in ROOTS:
        assert set(parse_symbol(root + suffix).pitch_classes) == read_elsewhere(root + suffix)


@pytest.mark.parametrize("suffix", sorted(WRONG_THERE))
def test_known_faults_of_the_other_reader(suffix):
    """The listed symbols differ, so that the list shrinks when the other reader is mended."""
    assert set(parse_symbol("C" + suffix).pitch_classes) != read_elsewhere("C" + suffix)


@pytest.mark.parametrize("suffix", sorted(REFUSED_THERE))
def test_symbols_the_other_reader_refuses(suffix):
    """The listed symbols cannot be compared as text, only through their MusicXML kind."""
    with pytest.raises(ValueError):
        read_elsewhere("C" + suffix)


@pytest.mark.parametrize("suffix", [*usual_suffixes(), "7alt", "7(no5)"])
def test_musicxml_kind_means_the_same_elsewhere(suffix):
    """Kind and degrees of every kind of chord are heard as meant, on every root."""
    for root in ROOTS:
        symbol = parse_symbol(root + suffix)
        kind, degrees = musicxml_kind(symbol.quality)
        other = harmony.ChordSymbol(root=root.replace("b", "-"), kind=kind)
        for value, alter, change in degrees:
            other.addChordStepModification(harmony.ChordStepModification(change, value, alter))
        assert {pitch.pitchClass for pitch in other.pitches} == set(symbol.pitch_classes)


@given(st.sampled_from(ROOTS), st.sampled_from(ROOTS))
def test_slash_bass_is_lowest_elsewhere(root, bass):
    """A slash bass, in the chord or outside it, is the lowest note for music21 as well."""
    symbol = parse_symbol(f"{root}/{bass}")
    other = harmony.ChordSymbol(
        root=root.replace("b", "-"), bass=bass.replace("b", "-"), kind="major"
    )
    assert symbol.lowest is not None
    assert other.bass().pitchClass == symbol.lowest.pitch_class
