"""How long strings ring, and what stops them."""

from __future__ import annotations

from fractions import Fraction

import pytest
from timeline_lessons import bars_of, rings


def _ring(body: str, string: int, bar: int = 0, onset: Fraction | int = 0) -> Fraction:
    bars = bars_of(f"section verse\n  {body}\n")
    return rings(bars[bar])[Fraction(onset), string]


@pytest.mark.parametrize(
    ("body", "string", "ring", "why"),
    [
        ("E { p6, -, p6, - }", 6, 2, "plucked again"),
        ("E { p6, -, -, - } | rest", 6, 4, "a rest damps all"),
        ("E { p6, -, -, - } | E { -, p6, -, - }", 6, 5, "plucked in the next bar"),
        ("E { p6, -, -, - } stop on 3", 6, 2, "stopped"),
        ("E { i3, -, -, - } release on 3&", 3, Fraction(5, 2), "the hand lets go"),
        ("E { p6, -, -, - } release on 3 | rest", 6, 4, "an open string rings through a release"),
        ("E A { i3, -, -, - }", 3, 2, "the next voicing frets it elsewhere"),
        ("E A { p4, -, -, - } | rest", 4, 2, "another finger comes to the same fret"),
        ("C Am { p4, -, -, - } | rest", 4, 4, "finger 2 stays where it is"),
        ("E A { p6, -, -, - } | rest", 6, 4, "open in both"),
        ("E D { p6, -, -, - } | rest", 6, 2, "the next voicing mutes it"),
        ("D E { p4, -, -, - } | rest", 4, 2, "an open string is fretted"),
        ("E { p6 i3 i3, -, -, - } | E { -, p6, -, - }", 6, 5, "thirds into beats"),
        ("E { p6, -, -, - } | E { - p6 i3, -, -, - }", 6, Fraction(13, 3), "beats into thirds"),
        ("E { p6x, -, -, - } | rest", 6, 1, "a dead note does not ring"),
        ("B7 { p5, -, p6, - } | rest", 5, 2, "its finger hops away"),
        ("E { a1@12*, -, -, - } | A { -, -, -, - } | rest", 1, 8, "open under a harmonic"),
        ("E { a1@3, -, -, - } | E { -, -, -, - } | rest", 1, 8, "held while the voicing stays"),
        ("E { a1@3, -, -, - } | A { -, -, -, - } | rest", 1, 4, "let go at the change"),
        ("E { i3@0h1, -, -, - } | E { -, -, -, - } | rest", 3, 8, "the slurred note is held"),
    ],
)
def test_what_stops_a_note(body: str, string: int, ring: Fraction | int, why: str) -> None:
    """One reason each."""
    assert _ring(body, string) == ring, why


def test_a_hop_ends_when_the_finger_goes_home() -> None:
    """The note it went for stops when its own string is plucked, at the bar line at the latest."""
    assert _ring("B7 { p6, -, p5, - }", 6) == 2
    assert _ring("B7 { -, -, p6, - } | B7 { -, -, -, p6 } | rest", 6, onset=2) == 2


def test_the_end_of_the_piece_ends_all() -> None:
    """What nothing stops rings to the end."""
    assert _ring("E { p6, -, -, - } | E { -, -, -, - } | E { -, -, -, - }", 6) == 12


def test_no_note_rings_for_ever() -> None:
    """Eight bars past its own is the most."""
    assert _ring("E { p6, -, -, - } | E { -, -, -, - } | % x20", 6) == 36


def test_an_early_hand_stops_what_it_takes_away() -> None:
    """The voicing of the next bar stops strings when the hand comes and not at the bar line."""
    assert _ring("E { i3, -, -, - } | D { -, -, -, - } early on 4", 3) == 3


def test_rings_differ_by_what_follows() -> None:
    """The same written bar rings into different bars: two timed bars, the notes else the same."""
    body = "section verse using plain\n  E\nsection one using plain\n  A\nsection two using plain\n  D\n"
    bars = bars_of(body + "form\n  verse\n  one\n  verse\n  two\n  verse\n  one\n")
    assert bars[0] is bars[4]
    assert bars[0] is not bars[2]
    assert [note.midi for note in bars[0].notes] == [note.midi for note in bars[2].notes]


def test_let_ring_over_the_bar_line() -> None:
    """Case b05 (MusicXML 4.0, `tied`): string 1 plucked once in 1, changed in 2, plucked in 3."""
    body = "section verse\n  C { a1, -, -, - } | Am { -, -, -, - } | C { a1, -, -, - } | rest\n"
    first, _, third, _ = bars_of(body)
    assert rings(first)[Fraction(0), 1] == 8
    assert first.notes[0].length == 1
    assert rings(third)[Fraction(0), 1] == 4
