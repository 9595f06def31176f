"""A finger that has hopped, and the voicing after it."""

from __future__ import annotations

from fractions import Fraction

from timeline_lessons import bars_of, rings

HOPPING = "patterns\n  low  p6 , - , p6 , p5\nsection verse using low\n"


def test_a_new_voicing_has_all_its_fingers_in_place() -> None:
    """Finger 2 hops to string 6 in B7; in E it never left string 5, whose pluck stops nothing."""
    (played,) = bars_of(HOPPING + "  B7:2 E:2\n")
    assert rings(played)[Fraction(2), 6] == 2


def test_a_finger_comes_back_within_its_voicing() -> None:
    """In a bar of B7 alone the pluck of string 5 takes finger 2 off string 6."""
    (played,) = bars_of(HOPPING + "  B7\n")
    assert rings(played)[Fraction(2), 6] == 1
