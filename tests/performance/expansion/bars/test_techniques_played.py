"""Techniques in time: what each comes to exactly, and what a string cannot do."""

from __future__ import annotations

from fractions import Fraction

import pytest
from timeline_lessons import bars_of, expanded, messages, plucked, rules

from fretloom.performance.events import TimedNote


def first(beats: str, *fields: str, voicing: str = "C") -> TimedNote:
    """Return the first note of a bar of C written out."""
    return bars_of(f"section verse\n  {voicing} {{ {beats} }}\n", *fields)[0].notes[0]


def faults(beats: str) -> list[str]:
    return rules(expanded(f"section verse\n  C {{ {beats} }}\n"))


def test_a_note_held_to_a_count_ends_there() -> None:
    """`to-3` from 1 is two quarters, though nothing else would stop it."""
    note = first("m2@1.to-3, -, p, -")
    assert (note.length, note.technique.held, note.ring) == (1, 2, 2)


def test_a_note_held_for_beats_may_cross_the_bar_line() -> None:
    """In 6/8 two beats are six eighths."""
    body = "section verse\n  C { -, -, -, m2@1.for-2 } | C { p, -, -, - }\n"
    bar = bars_of(body)[0]
    assert (bar.notes[0].technique.held, bar.notes[0].ring) == (2, 2)
    note = bars_of("section verse\n  C { p.for-2 , - }\n", "meter 6/8")[0].notes[0]
    assert note.technique.held == 3


def test_a_damped_note_ends_with_its_place() -> None:
    """Half a beat, where it would have rung to the end of the piece."""
    assert first("[m2@1.damped -], -, -, -").ring == Fraction(1, 2)
    assert first("m2@1.damped -, -, -, -").ring == Fraction(1, 2)
    assert first("m2@1, -, -, -").ring == 4


@pytest.mark.parametrize(
    ("beats", "found"),
    [
        ("m2@1.to-3, m, -, -", ["cannot-be-held"]),  # plucked again on 2
        ("m2@1.to-2, m, -, -", []),
        ("-, -, m2@1.to-3, -", ["cannot-be-held"]),  # begins on 3
        ("m2@1.to-5, -, -, -", ["cannot-be-held"]),  # no fifth count: `for-4` holds to the end
        ("m2@1.for-4, -, -, -", []),
        ("m2@1.ring, -, -, -", []),
        ("p.to-4, slap, -, -", ["cannot-be-held"]),  # the slap damps it
        ("p.to-4, body-slap, -, -", []),
    ],
)
def test_what_cannot_be_held_is_said(beats: str, found: list[str]) -> None:
    """A string plucked again, a count that has passed, a slap."""
    assert faults(beats) == found


def test_the_next_voicing_ends_what_is_held() -> None:
    """The finger has to leave: A does not hold string 2 at fret 1 by the same finger."""
    body = "section verse\n  C { -, -, -, m2@1.for-2 } | A { p, -, -, - }\n"
    (message,) = messages(expanded(body))
    assert message == (
        "bar 1 of verse: the note on string 2 is to be held for 2 beats, but it is stopped with the bar"
    )


def test_the_last_note_of_a_grace_is_the_main_one() -> None:
    """Its quick notes take no time of their own: a slur without `.grace` shares the beat."""
    note = first("m2@1h3.grace, -, -, -")
    assert [slur.onset for slur in note.slurs] == [0]
    assert (note.technique.grace, note.technique.grace_length) == ("on-beat", Fraction(1, 8))
    plain = first("m2@1h3, -, -, -")
    assert [slur.onset for slur in plain.slurs] == [Fraction(1, 2)]
    assert plain.technique.grace == ""


def test_grace_notes_leave_half_of_a_short_place() -> None:
    """Two before a sixteenth: each is a quarter of half of it."""
    note = first("m2@1h3p1.grace-before - - -, -, -, -")
    assert note.technique.grace_length == Fraction(1, 16)


def test_a_trill_names_the_other_note() -> None:
    """Fret 3 of the B string is D4, MIDI 62 (MIDI 1.0: middle C, C4, is 60)."""
    note = first("m2@1.trill-3:4, -, -, -")
    trill = note.technique.trill
    assert trill is not None
    assert (trill.fret, trill.midi, trill.fretting) == (3, 62, "4")


@pytest.mark.parametrize(
    ("pluck", "midi"),
    [
        ("m2@1.harmonic-13", 72),  # C4 an octave up: C5
        ("m2@1.harmonic-8", 79),  # a twelfth up: G5
        ("m2@1.harmonic-6", 84),  # two octaves up: C6
        ("m2@0.harmonic-12", 71),
    ],
)
def test_artificial_harmonics(pluck: str, midi: int) -> None:
    """12, 7 or 5 frets above the held one: the 2nd, 3rd and 4th partial (harmonic series; as for natural harmonics)."""
    assert first(f"{pluck}, -, -, -").midi == midi


@pytest.mark.parametrize(
    "pluck",
    [
        "m2@0.vibrato", "i.bend-half", "m2@1p0.vibrato", "mx.trill-3", "a1@12*.bend-half",
        "m2@1.trill-1", "m2@1.harmonic-11", "m2@1h3.harmonic-13",
    ],
)  # fmt: skip
def test_what_a_string_cannot_do_is_said(pluck: str) -> None:
    """An open string is not bent, a dead note not trilled, and not every fret rings."""
    assert faults(f"{pluck}, -, -, -") == ["technique-not-possible"]


@pytest.mark.parametrize("pluck", ["m2@0.trill-1", "m2@0h1.vibrato", "i.ghost", "m.vibrato"])
def test_what_a_string_can_do(pluck: str) -> None:
    """A trill may begin on the open string; a slur may lead to where there is a finger."""
    assert faults(f"{pluck}, -, -, -") == []


def test_a_slow_roll_is_marked_on_its_notes() -> None:
    """A quick one is not."""
    slow = bars_of("section verse\n  C { (slow p i m), -, (p i m), - }\n")[0]
    assert [note.technique.slow for note in slow.notes] == [True] * 3 + [False] * 3


def test_slaps_are_placed_and_damp() -> None:
    """On the strings: all of them stop; what is plucked at the same time sounds."""
    bar = bars_of("section verse\n  C { p+m, slap+i, body-slap!, p }\n")[0]
    assert [(one.onset, one.place, one.accent) for one in bar.slaps] == [
        (1, "strings", False),
        (2, "body", True),
    ]
    assert [(note.finger, note.ring) for note in bar.notes[:3]] == [("p", 1), ("m", 1), ("i", 3)]
    assert plucked(bar)[-1] == "3 p4@2"


def test_a_slap_can_be_added_to_a_pattern() -> None:
    """`with` puts it on a count; two on the same place at once are one too many."""
    bar = bars_of("section verse using plain\n  C with slap on 2 with slap on 4\n")[0]
    assert [one.onset for one in bar.slaps] == [1, 3]
    assert faults("p, slap+slap, p, -") == ["string-plucked-twice"]


def test_a_fermata_has_its_place() -> None:
    """On a count of the bar; `%` does not take it over, `same` does."""
    body = "section verse using plain\n  C fermata on 4 | %\nform\n  verse\n    but bar 1: same with a on 4&\n"
    assert [bar.fermata for bar in bars_of(body)] == [3, None]
    assert rules(expanded("section verse using plain\n  C fermata on 5\n")) == ["count-outside-bar"]


def test_a_pluck_of_a_pattern_that_is_held_too_long_is_one_fault() -> None:
    """In however many bars it is played."""
    body = "patterns\n  held  p , m.for-3 , p , m\nsection verse using held\n  C | E | A\n"
    assert rules(expanded(body)) == ["cannot-be-held"]


def test_in_a_short_bar_a_pattern_is_held_to_its_end_at_most() -> None:
    """The pattern asks for four beats, the last bar has two."""
    body = "patterns\n  held  p , m.to-4 , - , p\nsection verse using held\n  C\n  last 2: C\n"
    assert [bar.notes[-1].technique.held for bar in bars_of(body)] == [None, 1]


def test_a_natural_harmonic_says_where_it_is_touched() -> None:
    """A fret that the voicing holds is not one that is touched."""
    (found,) = expanded("section verse\n  C { p*, -, -, - }\n").diagnostics
    assert found.rule == "technique-not-possible"
    assert "write p@12*" in found.hint


def test_the_beat_waits_in_the_last_of_several_bars() -> None:
    """`x2` plays the bar twice, and its fermata once."""
    body = "section verse using plain\n  C x3 fermata on 4 | E fermata on 1\n"
    assert [bar.fermata for bar in bars_of(body)] == [None, None, 3, 0]
    changed = "section verse using plain\n  C\nform\n  verse\n    but bar 1: E x2 fermata on 2\n"
    assert [bar.fermata for bar in bars_of(changed)] == [None, 1]
