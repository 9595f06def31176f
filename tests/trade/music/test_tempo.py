"""Tempos as a metronome ticks them."""

from __future__ import annotations

from fractions import Fraction

import pytest

from fretloom.trade.music.meter import parse_meter
from fretloom.trade.music.tempo import Tempo, in_beats


@pytest.mark.parametrize(
    ("quarters", "meter", "expected"),
    [
        ("60", "6/8", ("40", "3/2")),
        ("60", "12/8", ("40", "3/2")),
        ("60", "6/8 in 6", ("120", "1/2")),
        ("96", "2/2", ("48", "2")),
        ("96", "4/4", ("96", "1")),
        ("61", "6/8", ("61", "1")),
        ("60", "2+2+3/8", ("60", "1")),
    ],
)
def test_a_tempo_in_quarters_is_counted_in_beats(
    quarters: str, meter: str, expected: tuple[str, str]
):
    """Three eighths are a dotted quarter, two thirds as many a minute; only whole numbers, and equal beats."""
    text, _, pulses = meter.partition(" in ")
    counted = parse_meter(text, int(pulses) if pulses else None)
    found = in_beats(Tempo(Fraction(quarters)), counted)
    assert found == Tempo(Fraction(expected[0]), Fraction(expected[1]))


def test_a_tempo_that_names_its_note_stays():
    """As the teacher says it."""
    slow = Tempo(Fraction(60), Fraction(1, 2))
    assert in_beats(slow, parse_meter("6/8")) == slow
