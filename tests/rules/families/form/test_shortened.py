"""Changes in the form that lose bars."""

from __future__ import annotations

import pytest
from rule_lessons import findings

TEXT = """lesson "Short"
  tempo 60

voicings
  C  x32010  fingers .32.1.

patterns
  plain  p , p m , p i , p m

section tune  using plain
  C | C
  repeat 2
  C
  ending 1: C
  ending 2: C
  end

form
  tune
    {change}
"""


def _said(change: str) -> list[str]:
    found = findings(TEXT.format(change=change))
    return [one.message for one in found if one.rule == "playing-shortened"]


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (
            "but bars 1-2: C",
            "1 bar takes the place of bars 1 to 2 of tune, so this playing is 1 bar shorter",
        ),
        (
            "but bars 2-4: C x2",
            "2 bars take the place of bars 2 to 4 of tune, so this playing is 1 bar shorter",
        ),
        (
            "but bars 4-5: C",
            "1 bar takes the place of bars 4 to 5 of tune, so this playing is 1 bar shorter",
        ),
    ],
)
def test_a_playing_that_loses_bars_is_told(change: str, message: str) -> None:
    """Also over two endings, one of which would be gone."""
    assert _said(change) == [message]


@pytest.mark.parametrize(
    "change",
    [
        "but bars 1-2: C | C",
        "but bars 1-2: C x2",
        "but bar 3: C",
        "but last bar: C x2",
        "but bars 1-2: C x3",
        "but from bar 3: C",
        "but without bars 1-2",
    ],
)
def test_what_says_its_length_is_left_alone(change: str) -> None:
    """As many bars or more, and what is told to be shorter."""
    assert _said(change) == []


@pytest.mark.parametrize(
    ("change", "without"), [("but bars 1-2: C", "bar 2"), ("but bars 1-4: C", "bars 2-4")]
)
def test_how_a_shorter_playing_is_said(change: str, without: str) -> None:
    """The hint leaves out what would be missing."""
    found = findings(TEXT.format(change=change))
    (hint,) = [one.hint for one in found if one.rule == "playing-shortened"]
    assert hint.endswith(f"say so with `but without {without}`")
