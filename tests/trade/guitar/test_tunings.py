"""Tunings by name and written out."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fretloom.errors import SymbolError
from fretloom.trade.guitar.tuning import Tuning
from fretloom.trade.guitar.tunings import NAMED, parse_tuning, retuning_steps


# Public tuning pages; the numbers by arithmetic from E2 = 40. One page has the D of open D an octave
# too high: "sixth string of open D" is D2 = 38.
@pytest.mark.parametrize(
    ("name", "midi"),
    [
        ("standard", [40, 45, 50, 55, 59, 64]),
        ("drop D", [38, 45, 50, 55, 59, 64]),
        ("double drop D", [38, 45, 50, 55, 59, 62]),
        ("DADGAD", [38, 45, 50, 55, 57, 62]),
        ("open D", [38, 45, 50, 54, 57, 62]),
        ("open G", [38, 43, 50, 55, 59, 62]),
        ("open E", [40, 47, 52, 56, 59, 64]),
        ("open A", [40, 45, 52, 57, 61, 64]),
        ("open C", [36, 43, 48, 55, 60, 64]),
        ("half-step down", [39, 44, 49, 54, 58, 63]),
        ("whole step down", [38, 43, 48, 53, 57, 62]),
        ("7-string", [35, 40, 45, 50, 55, 59, 64]),
        ("baritone", [35, 40, 45, 50, 54, 59]),
        ("ukulele", [67, 60, 64, 69]),
        ("ukulele low G", [55, 60, 64, 69]),
        ("tenor guitar", [48, 55, 62, 69]),
    ],
)
def test_named_tunings_sound(name, midi):
    """A trade name gives the open strings in their right octaves."""
    assert [pitch.midi for pitch in parse_tuning(name).pitches] == midi


def test_half_step_down_is_spelled_with_flats():
    """Flats, as the trade calls it Eb tuning."""
    assert str(parse_tuning("half step down")) == "Eb2 Ab2 Db3 Gb3 Bb3 Eb4"


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("Drop D", "drop D"), ("drop-d tuning", "drop D"), ("dadgad", "DADGAD"), ("Open G", "open G"),
        ("half-step down", "half step down"), ("full step down", "whole step down"),
        ("seven string", "7-string"), ("Twelve-String Guitar", "12-string"), ("tenor", "tenor guitar"),
        ("Standard Tuning", "standard"), ("Ukulele", "ukulele"), ("low G ukulele", "ukulele low G"),
    ],
)  # fmt: skip
def test_names_are_read_loosely(text, name):
    """Capitals, hyphens and the word "tuning" make no difference."""
    assert parse_tuning(text).name == name


@pytest.mark.parametrize("name", NAMED)
def test_named_tunings_read_back(name):
    """A named tuning written out is the same strings."""
    tuning = parse_tuning(name)
    again = parse_tuning(str(tuning))
    assert (again.pitches, again.doubles) == (tuning.pitches, tuning.doubles)


def test_courses():
    """On twelve strings the lower four pairs are octaves and the upper two unisons (common practice)."""
    tuning = parse_tuning("12-string")
    assert tuning.strings == 6
    gaps = [
        double.midi - pitch.midi
        for pitch, double in zip(tuning.pitches, tuning.doubles, strict=True)
        if double is not None
    ]
    assert gaps == [12, 12, 12, 12, 0, 0]


@pytest.mark.parametrize(
    ("text", "position", "words"),
    [
        ("E2 A2 D3 G3 B3 E", 15, "'E' is not a note with an octave"),
        ("E2 A2", 0, "has 2 strings"),
        ("E2 " * 13, 0, "has 13 strings"),
        ("E2 A2 H3", 6, "'H3'"),
        ("E2+E3+E4 A2 D3", 0, "not a string"),
        ("E2 A2+X3 D3", 6, "'X3'"),
        ("dadgat", 0, "not a tuning that"),
        ("E-9 A2 D3", 0, "no string can sound"),
        ("", 0, "not a tuning that"),
    ],
)
def test_refused_with_a_place(text, position, words):
    """What is not a tuning is refused where it goes wrong, with a way out."""
    with pytest.raises(SymbolError) as caught:
        parse_tuning(text)
    assert words in caught.value.message
    assert caught.value.position == position
    assert caught.value.hint


def test_near_name_is_suggested():
    """A slip in a name is answered with the nearest one."""
    with pytest.raises(SymbolError) as caught:
        parse_tuning("dadgat")
    assert "did you mean DADGAD?" in caught.value.hint


@pytest.mark.parametrize(
    ("name", "steps"),
    [
        ("standard", ()),
        ("drop D", ("string 6 down 2 half steps, to D2",)),
        ("DADGAD", (
            "string 6 down 2 half steps, to D2", "string 2 down 2 half steps, to A3",
            "string 1 down 2 half steps, to D4")),
        ("open E", (
            "string 5 up 2 half steps, to B2", "string 4 up 2 half steps, to E3",
            "string 3 up 1 half step, to G#3")),
        ("baritone", ()),
        ("ukulele low G", ()),
        ("E2+E3 A2+A3 D3+D4 G3+G4 A3+A3 E4+E4", ("string 2 down 2 half steps, to A3",)),
    ],
)  # fmt: skip
def test_retuning_in_words(name, steps):
    """The way from the usual tuning, string by string; an instrument of its own needs none."""
    assert retuning_steps(parse_tuning(name)) == steps


@given(
    st.text(max_size=60)
    | st.lists(st.sampled_from(["E2", "A#2", "+", " ", "drop", "D"])).map("".join)
)
def test_any_text_gives_a_tuning_or_one_error(text):
    """Whatever is typed, the answer is a tuning or one message with a place inside the text."""
    try:
        tuning = parse_tuning(text)
    except SymbolError as error:
        assert 0 <= error.position <= len(text)
    else:
        assert isinstance(tuning, Tuning)
