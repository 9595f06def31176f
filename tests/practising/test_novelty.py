"""What is new in a piece of a lesson, and against other lessons."""

from __future__ import annotations

from practice_lessons import TUNE, path, reading

from fretloom.practising.novelty import NewThing
from fretloom.practising.path import asked_by


def _asked(text: str) -> list[tuple[str, str]]:
    return [(one.kind, one.key) for one in asked_by(reading(text))]


def test_a_lesson_asks_for_its_shapes_changes_picking_and_techniques() -> None:
    """Each once, in order of appearance."""
    assert _asked(TUNE) == [
        ("shape", "x02210 ..231."),
        ("pattern", "thumb"),
        ("pattern", "alternating-bass"),
        ("pattern", "fingers"),
        ("pattern", "off-beat"),
        ("shape", "x32010 .32.1."),
        ("change", "x02210 ..231. > x32010 .32.1."),
        ("shape", "133211 134211"),
        ("technique", "barre"),
        ("change", "x32010 .32.1. > 133211 134211"),
        ("change", "133211 134211 > x32010 .32.1."),
        ("change", "x32010 .32.1. > x02210 ..231."),
        ("pattern", "pinch"),
    ]


def test_the_same_shape_under_another_name_is_not_new() -> None:
    """What counts is what the hand does."""
    other = (
        TUNE.replace("Am ", "Am.low ").replace("Am |", "Am.low |").replace("| Am\n", "| Am.low\n")
    )
    assert _asked(other) == _asked(TUNE)
    assert NewThing("shape", "x32010 .32.1.", "C") == NewThing("shape", "x32010 .32.1.", "C, 1st")


def test_a_change_that_is_never_made_is_not_asked_for() -> None:
    """From the first ending nobody goes on to the second."""
    text = TUNE.replace(
        "Am | C | F | C", "repeat 2\n    Am | Am\n    ending 1: C\n    ending 2: F\n  end"
    )
    changes = [one.words for one in asked_by(reading(text)) if one.kind == "change"]
    assert changes == ["Am to C", "C to Am", "Am to F", "F to Am"]


def test_counting_tuning_and_swing_are_learned_too() -> None:
    text = TUNE.replace("meter 4/4", "tuning DADGAD\n  swing 2:1")
    words = {one.words for one in asked_by(reading(text))}
    assert {"strings tuned in another way", "swing: long and short in turn"} <= words
    waltz = TUNE.replace("4/4", "3/4").replace(" , p m\n", "\n").replace(" , p i\n", "\n")
    assert "counting in 3/4" in {one.words for one in asked_by(reading(waltz))}


def test_what_other_lessons_ask_for_is_known() -> None:
    """Only what this one adds is left."""
    easier = TUNE.replace("F | C", "C | Am").replace(
        "  F   133211  fingers 134211  bass 6 4 5 4\n", ""
    )
    added = path(TUNE, known=(reading(easier),)).new
    assert {one.words for one in added} == {"F", "a barre", "C to F", "F to C"}
    assert path(TUNE, known=(reading(TUNE),)).new == ()


def test_swing_is_heard_only_between_the_beats() -> None:
    text = TUNE.replace("meter 4/4", "swing 2:1").replace("p , p m , p i , p m", "p , p , p , p")
    even = text.replace("p+m , p i , p+m , p i", "p+m , p , p+m , p")
    assert "swing: long and short in turn" in {one.words for one in asked_by(reading(text))}
    assert "swing: long and short in turn" not in {one.words for one in asked_by(reading(even))}


def test_a_pattern_of_two_bars_is_new() -> None:
    """One of a single bar is not."""
    two = TUNE.replace("p+m , p i , p+m , p i", "p+m , p i , p+m , p i | p , p , p , p")
    assert "a picking pattern of two bars" in {one.words for one in asked_by(reading(two))}
    three = two.replace("| p , p , p , p", "| p , p , p , p | p , p , p , p")
    assert "a picking pattern of several bars" in {one.words for one in asked_by(reading(three))}
    assert not any("bars" in one.words for one in asked_by(reading(TUNE)))


def test_where_no_chord_is_played_there_is_no_change() -> None:
    """Neither into it nor out of it."""
    text = TUNE.replace("Am | C | F | C", "Am | N.C. { -, -, -, - } | F | C")
    changes = [one.words for one in asked_by(reading(text)) if one.kind == "change"]
    assert changes == ["F to C", "C to Am"]
