"""What the bass order needs to know of a chord symbol."""

from __future__ import annotations

from fretloom.trade.harmony.chord_tones import chord_tones


def test_the_fifth_comes_first_in_the_bass_then_root_third_and_others() -> None:
    """For C7: G, C, E, then B flat (common practice, no source)."""
    tones = chord_tones("C7", "english")
    assert tones is not None
    assert [tones.rank(pitch) for pitch in (43, 48, 52, 46)] == [0, 1, 2, 3]
    minor = chord_tones("Cm", "english")
    assert minor is not None
    assert minor.rank(51) == 2


def test_the_fifth_of_a_diminished_and_an_augmented_chord_is_its_own() -> None:
    """Cdim has G flat, Caug G sharp; a chord without a fifth is given the perfect one."""
    fifths = [chord_tones(one, "english") for one in ("Cdim", "Caug", "C")]
    assert [one.fifth for one in fifths if one] == [6, 8, 7]
