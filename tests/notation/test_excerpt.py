"""A part of a lesson is played as it is in the whole."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

import pytest
from places import EXAMPLES

from fretloom.api import PlayedBar, check, examine, expand, export_tab, load
from fretloom.errors import ModelError
from fretloom.notation.excerpt import excerpt
from fretloom.rule_facts import Severity

LESSON = load(EXAMPLES / "rain-on-slate.lesson")


def plucks(bars: Iterable[PlayedBar]) -> list[list[tuple[Fraction, int, int]]]:
    """Return when each string of each bar is plucked, and where."""
    return [[(one.onset, one.string, one.fret) for one in bar.bar.notes] for bar in bars]


@pytest.mark.parametrize(("bars", "first", "last"), [((3, 4), 2, 4), ((1, 8), 0, 8), (None, 0, 8)])
def test_its_bars_are_those_of_the_section(
    bars: tuple[int, int] | None, first: int, last: int
) -> None:
    """The plucks of bars 3 and 4 of the roof are those that the song has there; only the last ones ring out."""
    found = plucks(expand(excerpt(LESSON, "roof", bars)).bars)
    assert found == plucks(expand(LESSON).bars[first:last])


def test_steps_are_left_out() -> None:
    """They say what to do with the whole lesson."""
    assert "One finger from above" in export_tab(LESSON)
    assert "One finger from above" not in export_tab(excerpt(LESSON, "roof"))


@pytest.mark.parametrize(("section", "bars"), [("cellar", None), ("roof", (7, 9))])
def test_what_is_not_there_is_found_by_a_check(section: str, bars: tuple[int, int] | None) -> None:
    """A section or a bar that does not exist is an error of the part."""
    found = check(examine(excerpt(LESSON, section, bars)))
    assert [one.severity for one in found if one.severity is Severity.ERROR]


def test_bars_that_cannot_be_are_refused() -> None:
    """Bars are counted from 1, and the last one does not come before the first."""
    with pytest.raises(ModelError):
        excerpt(LESSON, "roof", (4, 2))
    with pytest.raises(ModelError):
        excerpt(LESSON, "|", None)
