"""Habits of fingering (common practice, no source)."""

from __future__ import annotations

import pytest
from voicing_table import hand, shape

from fretloom.trade.playability.habits import habit_cost


def _cost(frets: str, fingers: str) -> float:
    return habit_cost(shape(frets), hand(fingers))


@pytest.mark.parametrize(
    ("frets", "usual", "other"),
    [
        ("x32000", ".32...", ".21..."),  # What is left of C.
        ("xx0230", "...13.", "...12."),  # What is left of D.
        ("x02200", "..23..", "..12.."),  # What is left of A minor.
        ("x20003", ".2...3", ".1...2"),  # Neighbouring fingers do not go four strings apart.
        ("x20003", ".1...3", ".1...4"),  # The ring finger before the little one.
        ("x02220", "..123.", "..213."),  # The lower finger on the lower string.
        ("xx4440", "..123.", "..132."),
    ],
)
def test_the_usual_fingers_cost_less(frets: str, usual: str, other: str) -> None:
    """What teachers show, against what is as near at hand."""
    assert _cost(frets, usual) < _cost(frets, other)


def test_nothing_else_is_touched() -> None:
    """Ordinary open chords and barres cost what their frets and fingers cost, or less."""
    for frets, fingers in [("320003", "21...3"), ("133211", "134211"), ("x5453x", ".3241.")]:
        assert _cost(frets, fingers) == 0
    assert _cost("x32010", ".32.1.") < 0


@pytest.mark.parametrize(
    ("frets", "odd"), [("x32010", ".43.1."), ("022100", ".342.."), ("x02220", "..111.")]
)
def test_chords_that_everybody_meets_keep_their_fingers(frets: str, odd: str) -> None:
    """No change is worth a C with the little finger, or an A as a barre."""
    assert _cost(frets, odd) >= 8


def test_more_strings_have_the_same_habits() -> None:
    """E minor on seven strings, the seventh open."""
    assert habit_cost((0, 0, 2, 2, 0, 0, 0), (None, None, "2", "3", None, None, None)) < 0
