"""The nearest voicing that sounds a chord symbol."""

from __future__ import annotations

import pytest

from fretloom.api import expand, loads
from fretloom.arranging.near_voicing import nearest_voicing
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.harmony.symbol import parse_symbol

SETTINGS = expand(loads('lesson "Search"\n')).settings


@pytest.mark.parametrize(
    ("frets", "symbol", "nearest"),
    [
        # C with its first string a fret too high: one string back by one.
        ((None, 3, 2, 0, 1, 1), "C", "x32010"),
        # E with a third that is a fret too low becomes major by one finger.
        ((0, 2, 2, 0, 0, 0), "E", "022100"),
        # C with G sharp on top: down to G is nearer than down to the open E.
        ((None, 3, 2, 0, 1, 4), "C", "x32013"),
        # G's lowest string two frets too low: up by two, and not muted.
        ((1, 2, 0, 0, 0, 3), "G", "320003"),
    ],
)
def test_the_fewest_strings_move_by_the_fewest_frets(
    frets: tuple[int | None, ...], symbol: str, nearest: str
) -> None:
    """One string is changed rather than two, by one fret rather than three; muting comes last."""
    found = nearest_voicing(Voicing(name="", frets=frets), parse_symbol(symbol), SETTINGS)
    assert found == nearest
