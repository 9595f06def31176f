"""A bar in words."""

from __future__ import annotations

from drawn_bars import drawn

from fretloom.engraving.drawn.tab.values import TabLook
from fretloom.performance.showing.called_strings import CalledStrings


def says(section: str) -> str:
    return drawn(section).bars[0].says


def test_a_bar_is_said_count_by_count():
    """Finger, string, fret; numbers once, and what follows them."""
    assert says("E:2 C#m7:2") == (
        "Bar 1, E, from 3 C sharp m7. 1: thumb string 6 open. "
        "2: thumb string 4 fret 2; and: middle string 2 open. "
        "3: thumb string 5 fret 4; and: index string 3 fret 4. "
        "4: thumb string 4 fret 6; and: middle string 2 fret 5."
    )


def test_what_is_done_with_a_note_is_said():
    """And what the hands do besides."""
    text = says("E { m2@0h3.vibrato, slap, - p!, body-slap } release on 4&")
    assert "middle string 2 open with vibrato hammer on to fret 3" in text
    assert "2: slap the strings" in text
    assert "3 and: thumb string 6 open louder" in text
    assert "4: slap the body; and: the fretting hand lets go" in text


def test_grace_notes_are_said_by_when_they_come():
    """Before the beat, or on it with the main note after them: the words of the lesson in words, too."""
    assert "middle string 2 open quickly before the beat hammer on to fret 3" in says(
        "E { m2@0h3.grace-before, -, -, - }"
    )
    assert "middle string 2 open quickly on the beat hammer on to fret 3" in says(
        "E { m2@0h3.grace, -, -, - }"
    )


def test_strings_go_by_their_names_where_that_is_wished():
    """What `--strings names` asks for holds in pictures that are heard as well."""
    names = CalledStrings(string_names=("low E", "A", "D", "G", "B", "high E"))
    (one, *_) = drawn("C#m7", look=TabLook(called=names)).bars
    assert "1: thumb the A string fret 4." in one.says


def test_a_roll_is_said_as_one_and_a_held_note_as_held():
    text = says("E { (p i m), -, m.for-2, - }")
    assert "1: roll thumb string 6 open, index string 3 fret 1 and middle string 2 open." in text
    assert "3: middle string 2 open held." in text


def test_a_bar_again_keeps_its_words():
    """What is sung stays."""
    bars = drawn('E | E\n  words: "tray" | "cup"').bars
    assert bars[1].says == "Bar 2, E. The same as the bar before. Words: cup."


def test_a_rest_is_said():
    assert says("rest").endswith("Silence: all strings are stopped.")
