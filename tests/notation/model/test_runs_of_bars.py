"""Which bars a change in the form can be for."""

from __future__ import annotations

import pytest

from fretloom.errors import ModelError
from fretloom.model import LAST, ChangeBars, ChangeDynamic, DropBars, KeepBars, Part
from fretloom.notation.model.section import Bar

BAR = Bar(parts=(Part(voicing="C"),))


@pytest.mark.parametrize(("first", "last"), [(1, 1), (2, 5), (3, LAST), (LAST, LAST), (-4, LAST)])
def test_runs_that_can_be_written(first: int, last: int) -> None:
    """One bar, several, from one on, the last one, the last four."""
    for kind in (DropBars, KeepBars):
        assert (kind(first=first, last=last).first, kind(first=first, last=last).last) == (
            first,
            last,
        )
    assert ChangeDynamic(dynamic="p", first=first, last=last).last == last


@pytest.mark.parametrize(
    ("first", "last", "says"),
    [
        (5, 2, "run backwards"),
        (LAST, 3, "ends with the last bar"),
        (-2, 2, "ends with the last bar"),
        (2, -2, "only the last bar"),
        (0, 1, "a bar from 1"),
    ],
)
def test_runs_that_no_line_can_say(first: int, last: int, says: str) -> None:
    """Backwards, or counted from the end at one end only."""
    for kind in (DropBars, KeepBars):
        with pytest.raises(ModelError, match=says):
            kind(first=first, last=last)


def test_half_a_run_is_refused() -> None:
    """Both ends, or none for the whole playing."""
    with pytest.raises(ModelError, match="has a first and a last one"):
        ChangeDynamic(dynamic="p", first=2)
    assert ChangeDynamic(dynamic="p").first is None


def test_the_last_bars_are_no_open_end() -> None:
    """`from bar 3` has an open end, `last 3 bars` does not."""
    assert ChangeBars(first=3, last=LAST, bars=(BAR,), open_end=True).open_end
    assert not ChangeBars(first=-3, last=LAST, bars=(BAR,)).open_end
    with pytest.raises(ModelError, match="open_end"):
        ChangeBars(first=-3, last=LAST, bars=(BAR,), open_end=True)
