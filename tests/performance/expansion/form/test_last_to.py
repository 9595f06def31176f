"""A last bar that goes up to a count."""

from __future__ import annotations

from fractions import Fraction

import pytest
from timeline_lessons import bars_of, expanded, rules

from fretloom.trade.music.meter import Meter, parse_count


@pytest.mark.parametrize(
    ("meter", "count", "quarters"),
    [
        ("4/4", "3", 3),
        ("4/4", "3&", 3),
        ("4/4", "3e", Fraction(5, 2)),
        ("4/4", "2trip", Fraction(5, 3)),
        ("6/8", "5", Fraction(5, 2)),
        ("3/4", "1", 1),
        ("2/2", "1", 2),
    ],
)
def test_it_lasts_to_the_end_of_the_count(meter: str, count: str, quarters: Fraction) -> None:
    """`3` and `3&` both end where 4 begins; in 6/8 eighths are counted (as it is said, no source)."""
    groups, unit = meter.split("/")
    assert Meter((int(groups),), int(unit)).end_of(parse_count(count)) == quarters


def test_a_pickup_and_the_last_bar_make_one() -> None:
    """What begins on 4 ends with 3."""
    bars = bars_of("section verse using plain\n  pickup from 4: E { p }\n  E\n  last to 3: E\n")
    assert [one.length for one in bars] == [1, 4, 3]
    assert bars[-1].kind == "last"


def test_the_last_ending_may_be_short() -> None:
    """The line belongs to the ending before it."""
    body = "section verse using plain\n  pickup from 4: E { p }\n  repeat 2\n  E\n  ending 1: A\n  ending 2: E\n  last to 3: E\n  end\n"
    assert rules(expanded(body)) == []
    assert [one.length for one in bars_of(body)][-1] == 3


@pytest.mark.parametrize("count", ["5", "4&", "9"])
def test_a_count_outside_the_bar_is_said(count: str) -> None:
    """Only `to 4&` of these ends with the bar, and then it is whole."""
    expected = [] if count == "4&" else ["count-outside-bar"]
    assert rules(expanded(f"section verse using plain\n  E\n  last to {count}: E\n")) == expected


@pytest.mark.parametrize(
    ("count", "length"), [("4&", Fraction(7, 2)), ("4", 3), ("2trip", Fraction(4, 3)), ("5", 4)]
)
def test_a_last_bar_ends_before_a_count(count: str, length: Fraction) -> None:
    """It makes a whole bar with the pickup from that count."""
    bars = bars_of(f"section verse using plain\n  E\n  last before {count}: E\n")
    assert (bars[-1].length, bars[-1].kind) == (length, "last")


@pytest.mark.parametrize("count", ["1", "5&", "9"])
def test_a_last_bar_cannot_end_before_such_a_count(count: str) -> None:
    """Before 1 there is nothing; after 5 there is no bar in 4/4."""
    body = f"section verse using plain\n  E\n  last before {count}: E\n"
    assert rules(expanded(body)) == ["count-outside-bar"]
