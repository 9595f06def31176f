"""Chord symbols at another pitch."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fretloom.trade.harmony.naming import usual_suffixes
from fretloom.trade.harmony.symbol import parse_symbol
from fretloom.trade.harmony.transposing import transposed
from fretloom.trade.music.key import parse_key


# Arithmetic: a capo raises by its fret; spelled with the fewest accidentals of the sounding key.
@pytest.mark.parametrize(
    ("text", "semitones", "key", "expected"),
    [
        ("E", 3, "G", "G"), ("C#m7", 3, "G", "Em7"), ("B7", 3, "G", "D7"), ("C/G", 2, "D", "D/A"),
        ("D/F#", 5, "G", "G/B"), ("F#m7b5", 1, "G", "Gm7b5"), ("A", 1, "Bb", "Bb"), ("D", 1, None, "Eb"),
        ("Cmaj7", 6, "F#", "F#maj7"), ("Cmaj7", 6, "Gb", "Gbmaj7"), ("Am/F#", 1, None, "Bbm/G"),
        ("C/Bb", 2, "D", "D/C"), ("N.C.", 5, None, "N.C."), ("CmΔ7", 2, "C", "DmΔ7"),
    ],
)  # fmt: skip
def test_capo_arithmetic(text, semitones, key, expected):
    """The sounding name, with the teacher's own suffix."""
    moved = transposed(parse_symbol(text), semitones, parse_key(key) if key else None)
    assert moved.written() == expected


def test_other_naming():
    """The result is written in the naming of the lesson."""
    assert transposed(parse_symbol("A", "german"), 2, None, "german").written("german") == "H"


@pytest.mark.parametrize(
    ("text", "semitones", "expected"),
    [("a", 2, "h"), ("a", 1, "b"), ("fis7", 3, "a7"), ("h", 2, "cis"), ("a/C", 2, "h/D")],
)
def test_a_small_german_letter_stays_small(text, semitones, expected):
    """A minor is h a whole step up, and not H, which is B major (German usage, from memory)."""
    moved = transposed(parse_symbol(text, "german"), semitones, None, "german")
    assert moved.written("german") == expected
    assert parse_symbol(expected, "german") == moved


ROOTS = st.sampled_from(
    ["C", "C#", "Db", "D", "Eb", "E", "F", "F#", "Gb", "G", "Ab", "A", "Bb", "B"]
)
SYMBOLS = st.builds("{}{}/{}".format, ROOTS, st.sampled_from(usual_suffixes()), ROOTS)


@given(SYMBOLS, st.integers(-11, 11))
def test_every_tone_moves_alike(text, semitones):
    """Each pitch class moves by the same distance, and the result reads back."""
    symbol = parse_symbol(text)
    moved = transposed(symbol, semitones)
    assert moved.pitch_classes == tuple((one + semitones) % 12 for one in symbol.pitch_classes)
    assert moved.lowest.pitch_class == (symbol.lowest.pitch_class + semitones) % 12
    again = parse_symbol(moved.text)
    assert (again.pitch_classes, again.lowest) == (moved.pitch_classes, moved.lowest)
