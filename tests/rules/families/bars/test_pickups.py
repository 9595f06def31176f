"""Pickups and incomplete last bars, in the order in which bars are played."""

from __future__ import annotations

import pytest
from rule_lessons import findings, lesson, reported


def _tune(body: str, form: str = "form\n  tune x2\n", meter: str = "4/4") -> str:
    return lesson(
        head=f'lesson "Two cups"\n  meter {meter}\n',
        section="section tune  using plain\n" + body,
        more=form,
    )


# Pickups repeated whole: CPJKU/partitura#52 and cuthbertLab/music21#584, the sums by arithmetic.
FULL = "  pickup 1: C\n  C x8\n"
SHORT = "  pickup 1: C\n  C x7\n  last 3: C\n"


def test_pickup_and_short_last_bar_make_a_bar() -> None:
    """A pickup of 1 and a last bar of 3 fit, however often they are played."""
    assert reported(_tune(SHORT)) == []


def test_pickup_after_full_bar_is_reported_once_with_its_sum() -> None:
    """A pickup of 1 after a bar of 4 makes 5 beats where 4 make a bar."""
    (found,) = findings(_tune(FULL, "form\n  tune x4\n"))
    assert found.rule == "pickup-does-not-fit"
    assert "(1 beat)" in found.message
    assert "a bar of 4 beats" in found.message
    assert "together 5 beats where a bar has 4 beats" in found.message
    assert found.hint == "end tune with an incomplete bar: last 3: ..."


def test_piece_may_begin_with_a_pickup_and_end_in_full() -> None:
    """Played once, a pickup has no bar before it to be completed."""
    assert reported(_tune(FULL, "")) == []


def test_piece_may_end_with_a_short_bar() -> None:
    """A pickup bar is numbered 0 and the last bar is short by as much (MusicXML 4.0, implicit bars)."""
    assert reported(_tune(SHORT, "")) == []


def test_repeat_back_to_the_upbeat_needs_a_short_bar() -> None:
    """A repeat that goes back to the upbeat needs a bar short by as much (MusicXML 4.0, implicit)."""
    body = "  repeat 2\n  pickup from 4&: C {{ m }}\n  C x7\n{last}  end\n"
    fitting = body.format(last="  last 3.5: C\n")
    mixed = body.format(last="  C\n")
    assert reported(_tune(fitting, "")) == []
    (found,) = findings(_tune(mixed, ""))
    assert "together 4 1/2 beats where a bar has 4 beats" in found.message


def test_repeat_back_to_the_first_full_bar() -> None:
    """An upbeat for the first pass only stands before the repeat, and all bars are full."""
    body = "  pickup from 4&: C { m }\n  repeat 2\n  C x8\n  end\n"
    assert reported(_tune(body, "")) == []


def test_short_bar_in_the_middle_is_reported() -> None:
    """An incomplete bar that no pickup completes leaves a hole before the next section."""
    text = lesson(
        section="section tune  using plain\n  C\n  last 3: C\n\nsection close  using plain\n  C\n",
    )
    (found,) = findings(text)
    assert (found.rule, found.span.line) == ("pickup-does-not-fit", 12)
    assert found.hint == "begin close with pickup from 4: ..., or write the bar in full"


@pytest.mark.parametrize(("last", "rules"), [("5/3", []), ("1", ["pickup-does-not-fit"])])
def test_compound_meter_is_counted_in_its_counts(last: str, rules: list[str]) -> None:
    """In 6/8 a pickup from 6 is one count of six."""
    text = lesson(
        head='lesson "Two cups"\n  meter 6/8\n',
        patterns="patterns\n  plain  p i m , p i m\n",
        section=f"section tune  using plain\n  pickup from 6: C {{ i }}\n  C\n  last {last}: C\n",
        more="form\n  tune x2\n",
    )
    found = findings(text)
    assert [one.rule for one in found] == rules
    assert all("1 count)" in one.message and "of 3 counts" in one.message for one in found)
