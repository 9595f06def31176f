"""What a bar takes from the one it stands for, and where it is in its section's pattern."""

from __future__ import annotations

import pytest
from timeline_lessons import bars_of

TWO_BARS = """patterns
  answer  p , p , p , p | p , - , p , -
section verse using answer
  E | A | E | A
form
  verse
"""


def test_a_repeated_bar_is_not_early_again() -> None:
    """The hand is there early for the bar that says so; the `%` after it is taken on its first beat."""
    bars = bars_of("section verse using bassline\n  C | A E early on 4& | %\n")
    taken = [[(one.voicing.name, str(one.onset)) for one in bar.voicings] for bar in bars]
    assert taken == [
        [("C", "0"), ("A", "7/2")],
        [("A", "0"), ("E", "2")],
        [("A", "0"), ("E", "2")],
    ]


@pytest.mark.parametrize(
    ("but", "plucks"),
    [
        ("bars 2-3: B7 | C", [4, 2, 4, 2]),
        ("bar 3: B7 | C", [4, 2, 4, 2, 2]),
        ("bars 2-4: B7", [4, 2]),
        ("bar 2: B7 | C | D", [4, 2, 4, 2, 4, 2]),
        ("last bar: B7 x2", [4, 2, 4, 2, 4]),
    ],
)
def test_bars_put_in_go_on_with_the_pattern(but: str, plucks: list[int]) -> None:
    """The first of them has the place of the bar it is played for, the others follow on."""
    bars = bars_of(f"{TWO_BARS}    but {but}\n")
    assert [len(bar.notes) for bar in bars] == plucks
