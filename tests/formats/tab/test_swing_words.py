"""How the heading of a tab says a swing."""

from __future__ import annotations

import pytest

from fretloom.formats.tab.words import swing_words
from fretloom.trade.music.meter import parse_meter


@pytest.mark.parametrize(
    ("meter", "swing", "words"),
    [
        ("4/4", (2, 1), "2:1, the first eighth note of each pair is the longer one"),
        ("2/2", (3, 2), "3:2, the first quarter note of each pair is the longer one"),
        ("4/4", (1, 2), "1:2, the first eighth note of each pair is the shorter one"),
        ("6/8", (2, 1), "2:1"),
        ("4/4", (1, 1), "1:1"),
    ],
)
def test_a_swing_in_words(meter: str, swing: tuple[int, int], words: str) -> None:
    """The note that swings is half a beat; where none does, nothing is said about one."""
    assert swing_words(swing, parse_meter(meter)) == words
