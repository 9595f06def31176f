"""Bars made from sections and from what is played."""

from __future__ import annotations

from drawn_bars import HEAD, bars_of
from reading_through import reading_of
from timelines import bar

from fretloom.engraving.drawn.tab.making.strip_bars import of_played

SECTION = f"{HEAD}section verse using step\n"


def over(section: str, head: str = HEAD) -> list[tuple[str, ...]]:
    return [one.over for one in bars_of(section, head)[0]]


def test_repeats_stand_in_words():
    """How often which bars, which ending is when, and where it goes back."""
    lines = "E\n  repeat 2\n    E | B7\n    ending 1: E\n    ending 2: B7 | E\n  end"
    assert over(lines) == [
        (),
        ("bars 2 to 6 twice",),
        (),
        ("1st time", "then back to bar 2"),
        ("2nd time",),
        (),
    ]


def test_endings_that_take_turns():
    """How often is what all of them say; an ending for several times goes back as well."""
    lines = "repeat 3\n    E\n    ending 1,3: B7\n    ending 2: E\n  end"
    assert over(lines) == [
        ("bars 1 to 3 3 times",),
        ("1st and 3rd time", "then back to bar 1"),
        ("2nd time", "then back to bar 1"),
    ]


def test_a_repeat_of_one_bar_and_one_in_another():
    """The outer one is said first."""
    assert over("repeat 3\n    E\n  end") == [("this bar 3 times",)]
    lines = "repeat 2\n    repeat 3\n      E | B7\n    end\n    E\n  end"
    assert over(lines)[0] == ("bars 1 to 3 twice", "bars 1 to 2 3 times")


def test_loudness_and_speed_are_said_where_they_change():
    """And for how long they change evenly."""
    lines = "dynamic p\n  E x2\n  crescendo to f over 2 bars\n  E | B7\n  ritardando to 40 over 1 bar\n  E"
    assert over(lines) == [
        ("soft (p)",),
        (),
        ("growing to loud (f) over 2 bars",),
        (),
        ("slowing down to 40 in this bar",),
    ]


def test_a_bar_is_again_only_where_it_looks_like_the_one_before():
    """Not where a repeat begins or ends between them."""
    assert [one.again for one in bars_of("E | E | B7 | E")[0]] == [False, True, False, False]
    assert [one.again for one in bars_of("E\n  repeat 2\n    E | E\n  end\n  E")[0]] == [
        False,
        False,
        True,
        False,
    ]


def test_what_is_played_has_the_numbers_of_its_section():
    """From 1 each time, as the teacher counts. A meter is said where it is not that of the bar before."""
    timeline = reading_of(f"{SECTION}  E | B7 | E\n\nform\n  verse x2\n").timeline
    bars = of_played(timeline.bars, {})
    assert [one.label for one in bars] == ["1", "2", "3", "1", "2", "3"]
    assert [one.over for one in bars] == [()] * 6
    bars = of_played(timeline.bars, {}, before=bar("3/4"))
    assert [one.over for one in bars][:2] == [("in 4/4",), ()]


def test_a_note_is_held_into_the_next_bar():
    """As far as it is to be held there."""
    held = [one.held for one in bars_of("E { p, p, p, m2@0.for-3 } | E { p, p, p, - }")[0]]
    assert held[0] == ()
    [(string, until)] = held[1]
    assert (string, until) == (2, 2)
