"""How a song uses its voicings."""

from __future__ import annotations

from fractions import Fraction

from attrs import evolve
from timelines import bar, note, timeline

from fretloom.performance.showing.shape_use import ShapeUse, shape_uses
from fretloom.trade.music.meter import Count


def test_what_is_plucked_and_when_the_thumb_plays():
    """Over all bars that take the voicing, each count once, in order."""
    one = bar(
        "4/4",
        note(0, 5, 3, "p"),
        note(2, 4, 2, "p"),
        note("3/2", 3, 0, "i"),
        chord="C",
        frets="x32010",
    )
    two = bar("4/4", note("5/2", 4, 2, "p"), note(0, 5, 3, "p"), chord="C", frets="x32010")
    assert shape_uses(timeline([one, two])) == {
        "C": ShapeUse(
            frozenset({5, 4, 3}),
            ((5, (Count(1),)), (4, (Count(3), Count(3, Fraction(1, 2))))),
        )
    }


def test_counts_are_in_order():
    """Whatever order the bars have."""
    places = ["7/4", "3/2", "5/4", "1"]
    bars = [bar("4/4", note(at, 5, 3, "p"), chord="C", frets="x32010") for at in places]
    counts = shape_uses(timeline(bars))["C"].thumb_on(5)
    assert [str(one) for one in counts] == ["2", "2e", "2&", "2a"]


def test_counts_go_by_the_full_bar():
    """A pickup of one quarter is on count four."""
    pickup = evolve(
        bar("4/4", note(0, 5, 3, "p"), chord="C", frets="x32010"),
        start=Fraction(3),
        length=Fraction(1),
    )
    assert shape_uses(timeline([pickup]))["C"].thumb_on(5) == (Count(4),)


def test_a_note_beside_the_voicing_is_not_its():
    """Another fret on its string; nor is a note before any voicing is taken."""
    found = shape_uses(timeline([bar("4/4", note(0, 5, 5, "p"), chord="C", frets="x32010")]))
    assert found == {"C": ShapeUse()}
    assert shape_uses(timeline([bar("4/4", note(0, 5, 5, "p"))])) == {}
