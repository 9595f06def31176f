"""A swing that a meter cannot have, and a ratio that is not long and short."""

from __future__ import annotations

from fractions import Fraction

import pytest

import fretloom
from fretloom.trade.music.meter import parse_meter
from fretloom.trade.music.swing import swung_notes

LESSON = """\
lesson "Two cups"
  meter {meter}
  swing {swing}

voicings
  C  x32010  fingers .32.1.  bass 5 4 5 4

section tune
  C {{ {beats} }}
"""


@pytest.mark.parametrize(
    ("meter", "notes"),
    [
        ("4/4", {Fraction(1, 2)}),
        ("2/2", {Fraction(1)}),
        ("3/8", {Fraction(1, 4)}),
        ("6/8", set()),
        ("2+2+3/8", {Fraction(1, 2)}),
    ],
)
def test_the_halves_of_beats_swing(meter: str, notes: set[Fraction]) -> None:
    """Eighths in 4/4, quarters in 2/2, none in 6/8 (common practice, no source)."""
    assert swung_notes(parse_meter(meter)) == notes


@pytest.mark.parametrize(
    ("meter", "swing", "severity", "message"),
    [
        ("6/8", "2:1", "warning", "a beat of 6/8 has no halves, so nothing swings there"),
        (
            "2/2",
            "2:1",
            "info",
            "in 2/2 a swing is for the halves of its beats, so quarter notes swing",
        ),
        ("4/4", "1:2", "info", "swing 1:2: the first half of a beat is the shorter one"),
        (
            "4/4",
            "1:1",
            "info",
            "swing 1:1: both halves of a beat are equally long, which is not a swing",
        ),
        ("4/4", "3:2", "", ""),
        ("2+2+3/8", "2:1", "", ""),
    ],
)
def test_what_is_said_of_a_swing(meter: str, swing: str, severity: str, message: str) -> None:
    """One finding at the ratio, or none."""
    beats = ", ".join("p" for _ in parse_meter(meter).beats)
    text = LESSON.format(meter=meter, swing=swing, beats=beats)
    found = [one for one in fretloom.check(fretloom.loads(text)) if one.rule == "swing-and-meter"]
    assert [(one.severity.value, one.message) for one in found] == [(severity, message)] * bool(
        message
    )
    assert all(one.span is not None and one.span.text == swing for one in found)


def test_a_swing_for_some_bars_only_is_a_remark() -> None:
    """The bars in 6/8 are played straight; there is nothing to take out."""
    text = (
        LESSON.format(meter="4/4", swing="2:1", beats="p, p, p, p") + "  meter 6/8\n  C { p, p }\n"
    )
    found = [one for one in fretloom.check(fretloom.loads(text)) if one.rule == "swing-and-meter"]
    assert [one.severity.value for one in found] == ["info"]
    assert "leave it as it is" in found[0].hint
