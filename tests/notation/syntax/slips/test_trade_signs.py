"""What the trade writes elsewhere: found once, and never in a line that means something."""

from __future__ import annotations

import pytest

from fretloom.notation.syntax.slips.habits import find_habit


def _found(text: str, rule: str = "body_line") -> str:
    habit = find_habit(text, text, rule)
    return text[habit.start : habit.end] if habit else ""


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("E | A | D.S. al Coda", "D.S. al Coda"),
        ("E | D. C. | A", "D. C."),
        ("E | to Coda | A", "to Coda"),
        ("E | A | Fine", "Fine"),
        ("E | A rit. | B7", "rit."),
        ("E | accel 120 | B7", "accel 120"),
        ("E cresc. | A", "cresc."),
        ("E | A a tempo", "a tempo"),
        ("E rubato | A", "rubato"),
        ("E mf | A", "mf"),
        ("E l.v. | A", "l.v."),
        ("E - A - B7", "E - A - B7"),
        ("Ex2 | A", "Ex2"),
        ("C#m7x4", "C#m7x4"),
    ],
)
def test_what_is_found_in_bars(text: str, found: str) -> None:
    """The words or signs, and not more of the line."""
    assert _found(text) == found
    assert _found(text, "bar") == found


@pytest.mark.parametrize(
    "text",
    [
        "E | C#m7 Bm7 | A | B7",
        "E:3 E7:1 | A x2 | % | rest",
        "coda | fine-tune | ritual",
        "E { p, -, i m, p } with a@3 on 3",
        "last 3: E",
        "repeat 2",
        "ending 1 2: A | B7",
        "ritardando to 60 over 2 bars",
        "crescendo to mf over 1 bar",
        "dynamic mf",
        "a tempo",
        "free time",
        "a | e | a",
        'words: "Lamps are lit" | "by the door"',
        "E fermata on 4",
        "walk-down | E",
        "Fmaj7 | Asus2 | Dadd9x",
    ],
)
def test_what_a_lesson_says_is_left_alone(text: str) -> None:
    """Names and signs of the notation are no habits."""
    assert _found(text) == ""


@pytest.mark.parametrize(
    ("text", "found"),
    [("repeat 2", "repeat 2"), ("D.C. al Fine", "D.C. al Fine"), ("verse x2", ""), ("repeat", "")],
)
def test_the_form(text: str, found: str) -> None:
    """A repeat of the whole form, and the trade's road map; `repeat` may be a section's name."""
    assert _found(text, "form_line") == found


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("plain P , P M , P I", "P , P M , P I"),
        ("plain P+A , P2", "P+A , P2"),
        ("plain p , P , i", ""),  # One alone is said where it stands.
        ("Plain p , p m", ""),
    ],
)
def test_picking_fingers_in_capitals(text: str, found: str) -> None:
    """All of a line at once."""
    assert _found(text, "pattern_line") == found


def test_a_text_behind_its_bar() -> None:
    """The text belongs before it."""
    text = 'E | A "sing" | B7'
    habit = find_habit(text, text.replace('"sing"', " " * 6), "body_line")
    assert habit is not None
    assert habit.hint == 'write "sing" A'


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("a tempo 80", "a tempo"),
        ('words: "a b" on 1,3', "1,3"),
        ("E with fermata on 4", "with fermata"),
        ("E with body slap on 2", "with body slap"),
        ("E slap on 2", "slap"),
        ("E pause on 4", "pause"),
        ("slowing to 60 over 2 bars", "slowing"),
        ("tempo 60 over 2 bars", "tempo 60 over 2 bars"),
        ("ritardando to 60", "ritardando to 60"),
        ("E cresc. to f over 2 bars", "cresc."),
        ('lyrics 2: "a"', "lyrics"),
    ],
)
def test_how_it_is_said_elsewhere_in_sections(text: str, found: str) -> None:
    """The words to be written otherwise."""
    assert _found(text) == found


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("but softer", "softer"),
        ("but faster", "faster"),
        ("but no repeats", "no repeats"),
        ("but bars 1-2: dynamic p", "dynamic"),
        ("but rit. over last 2 bars", "rit."),
        ("but words verse 2", "2"),
        ("but words 1 in bars 1-2", "1"),
        ('but words: "new"', "words"),
        ("but with slap on 2", "with slap"),
        ("but fermata on last bar", "fermata"),
        ("but only 1-2", "1-2"),
        ("but dynamics p", "dynamics"),
        ("but free time", "free time"),
        ("but without repeats", ""),
        ("but words 2", ""),
        ("but bars 1-2 dynamic p", ""),
        ("but ritardando to 60 over last 2 bars", ""),
        ("but crescendo to f over bars 5-8", ""),
        ("but without bars 1-2", ""),
        ("but last bar: same fermata on 4", ""),
    ],
)
def test_how_it_is_said_elsewhere_in_the_form(text: str, found: str) -> None:
    """And lines that are right are left alone."""
    assert _found(text, "form_line") == found


def test_long_lines_are_not_looked_through():
    """What stands in quotes is blank, and looking through long blanks takes time with their square."""
    from fretloom.notation.syntax.slips.habits import find_habit

    line = "D.C. al Fine"
    assert find_habit(line, line, "body_line") is not None
    assert find_habit(line, line + " " * 400, "body_line") is None
