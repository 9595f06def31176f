"""Plucks taken away from a bar."""

from __future__ import annotations

from fractions import Fraction

import pytest

from fretloom.arranging.easing.fewer_plucks import with_fewer_plucks
from fretloom.arranging.easing.levels import REACHES
from fretloom.notation.model.pattern import PatternBar
from fretloom.notation.syntax.read import read
from fretloom.notation.syntax.writing.words import beats
from fretloom.source import Source
from fretloom.trade.music.meter import Meter, parse_meter

FOUR = parse_meter("4/4")
BEGINNER = REACHES["beginner"]


def bar(text: str) -> PatternBar:
    """Return the first bar of a pattern."""
    return read(Source("<test>", f"patterns\n  one  {text}\n")).patterns[0].bars[0]


def fewer(text: str, beat: float = 0.8, meter: Meter = FOUR) -> str:
    """Return what is left of a bar for a beginner."""
    return beats(with_fewer_plucks(bar(text), meter, beat, BEGINNER).beats)


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("p , p m , p i , p m", "p , p m , p i , p"),
        ("p m , p i , p m , p i", "p m , p i , p , p"),
        ("p+m , p i , p+m , p i", "p+m , p i , p+m , p"),
        ("p+m , p+i m , p+m , p", "p+m , p+i , p+m , p"),
        ("p , p m , p i , p", "p , p m , p i , p"),
        ("p , m i , m , m i", "p , m i , m , m i"),
    ],
)
def test_what_falls_between_the_counts_goes_from_the_end(before: str, after: str) -> None:
    """The thumb's counts and the pinches stay, and so does all where the thumb does not walk."""
    assert fewer(before) == after


def test_sixteenths_go_before_eighths() -> None:
    """Where strokes are too close, the smallest shares of a count are taken away first."""
    assert fewer("p i m i , p , p , p", beat=0.8) == "p m , p , p , p"
    assert fewer("p i m i , p , p , p", beat=2.0) == "p i m - , p , p , p"


def test_what_names_a_fret_is_melody_and_stays() -> None:
    """The thumb rests on every other count instead, so that there is room for it."""
    found = with_fewer_plucks(bar("p , p a@0 , p m2@3 , p a@2"), FOUR, 0.8, BEGINNER)
    assert beats(found.beats) == "p , - a@0 , p m2@3 , - a@2"
    assert (list(map(str, found.thumb)), found.dropped, found.lost) == (["2", "4"], (), ())


def test_melody_that_is_too_quick_goes_and_is_told() -> None:
    """It is listed as it was written."""
    found = with_fewer_plucks(bar("p a@2h4 m i , p , p , p"), FOUR, 0.7, BEGINNER)
    assert found.lost == ("a@2h4",)
    assert list(map(str, found.dropped)) == ["1e", "1a"]


def test_a_pinch_gives_its_thumb_away_and_keeps_its_finger() -> None:
    """Where the thumb has to rest, the finger goes on."""
    assert fewer("p , p+a a@0 , p a@2 , p a@3") == "p , a a@0 , p a@2 , - a@3"


def test_groups_and_shares_are_written_in_the_fewest_signs() -> None:
    """No rest is left where a longer share says the same."""
    assert fewer("p [m i] , p , p , p", beat=0.8) == "p m , p , p , p"


def test_bars_of_other_beats_than_the_meter_stay() -> None:
    """Where a beat stands in them is not known."""
    odd = bar("p i m i , p i m i")
    assert with_fewer_plucks(odd, FOUR, 0.5, BEGINNER).beats is odd


def test_in_six_eight_the_counts_are_eighths() -> None:
    """An arpeggio of six is all on counts."""
    assert fewer("p i m , a m i", beat=0.7, meter=parse_meter("6/8")) == "p i m , a m i"


def test_enough_is_taken_away_and_no_more() -> None:
    """With what was taken away last, there would be too much."""
    found = with_fewer_plucks(bar("p m , p i , p m , p i"), FOUR, 0.8, BEGINNER)
    assert list(map(str, found.dropped)) == ["3&", "4&"]
    assert Fraction(1, 2) in {one.part for one in found.dropped}
