"""The key of a row of chords."""

from __future__ import annotations

from fractions import Fraction

import pytest

from fretloom.trade.harmony.key_guess import guess_key
from fretloom.trade.harmony.symbol import parse_symbol


def guess(chords: str):
    return guess_key([(parse_symbol(name), Fraction(4)) for name in chords.split()])


# Cadences and turnarounds as harmony handbooks give them; each is unmistakable by its tonic.
@pytest.mark.parametrize(
    ("chords", "key"),
    [
        ("E A B7 E", "E"), ("C Am F G C", "C"), ("Dm A7 Dm", "Dm"), ("Bb Eb F7 Bb", "Bb"),
        ("Am G F E7 Am", "Am"), ("Em Am B7 Em", "Em"), ("A D A E7 A", "A"), ("F#m C#7 F#m", "F#m"),
        ("C F C G7 C F G7 C", "C"), ("Eb Ab Bb7 Eb", "Eb"), ("C E7 A7 D7 G7 C", "C"),
    ],
)  # fmt: skip
def test_plain_cadences_are_sure(chords, key):
    """A progression that begins or ends on its tonic after the dominant leaves no doubt."""
    found = guess(chords)
    assert (str(found.key), found.certainty) == (key, "sure")


def test_loops_are_less_sure():
    """A row without a cadence is likely at most, and names the next best key (common practice)."""
    found = guess("Am F C G")
    assert found.certainty != "sure"
    assert {str(found.key), str(found.other)} <= {"Am", "C", "F", "G"}


def test_open_answer_names_two_keys():
    """Where two keys are as good, both are said."""
    assert str(guess("E7 A7 E7 B7 A7 E7")).startswith("E")
    assert " or " in str(guess("E7 A7 E7 B7 A7 E7"))


def test_nothing_to_go_by():
    """Without a chord there is no key."""
    assert guess_key([]) is None
    assert guess("N.C.") is None


def test_length_counts():
    """The chord that is held longest weighs most."""
    chords = [(parse_symbol("G"), Fraction(1)), (parse_symbol("C"), Fraction(30))]
    assert str(guess_key(chords).key) == "C"
