"""Days of a plan in short."""

from __future__ import annotations

from datetime import date

import pytest

from fretloom.practising.days import short_dates


@pytest.mark.parametrize(
    ("days", "said"),
    [
        ([(1, 4)], "4 January"),
        ([(1, 4), (1, 6)], "4, 6 January"),
        ([(1, 4), (1, 5)], "4, 5 January"),
        ([(1, 4), (1, 5), (1, 6)], "4 to 6 January"),
        ([(1, 30), (1, 31), (2, 1)], "30 January to 1 February"),
        ([(1, 28), (1, 30), (2, 2), (2, 4)], "28, 30 January, 2, 4 February"),
        ([(1, 4), (1, 5), (1, 6), (1, 8)], "4 to 6, 8 January"),
    ],
)
def test_days_are_said_with_each_month_once(days, said):
    """January 2027; what a month is called stands in the table of phrases."""
    assert short_dates([date(2027, month, day) for month, day in days]) == said
