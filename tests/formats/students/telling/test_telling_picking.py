"""A pattern and a bar in words: who plucks when, and how."""

from __future__ import annotations

import re

import pytest
from lesson_pool import LESSONS, Made
from timeline_lessons import expanded

from fretloom.formats.students.telling.listener import Listener
from fretloom.formats.students.telling.picking import home_sentences, pattern_sentences, says_more
from fretloom.formats.students.telling.spoken import bar_sentence, chord_words
from fretloom.performance.events import TimedBar

FINGERS = {"thumb": "p", "index": "i", "middle": "m", "ring": "a", "little": "c"}
PARTS = {"": "", "e": "e", "and": "&", "a": "a", "trip": "trip", "let": "let"}


def bars(body: str, *fields: str) -> list[TimedBar]:
    found = expanded(f"section verse\n  {body}\n", *fields).timeline
    return [one.bar for one in found.bars]


def test_count_by_count_and_then_the_strings():
    assert pattern_sentences(bars("E using plain"), Listener()) == (
        "1: thumb. 2: thumb; and: middle. 3: thumb; and: index. 4: thumb; and: middle.",
        "The thumb plays strings 6, 4, 5 and 4 in turn.",
        "The index finger stays on string 3 and the middle finger on string 2.",
    )


def test_the_strings_alone():
    found = bars("E using plain")
    assert home_sentences(found, Listener()) == pattern_sentences(found, Listener())[1:]


@pytest.mark.parametrize("pluck", ["m2@1h3", "a1@12*", "mx", "m2@3", "i.vibrato", "m.ring"])
def test_a_picking_picture_does_not_say_how_a_note_is_played(pluck: str):
    assert says_more(bars(f"E {{ p, {pluck}, p, m }}"))
    assert not says_more(bars("E { p, m, (slow p i m), p+a }"))


def test_pinches_rolls_and_slaps():
    words = pattern_sentences(bars("E { p+m, (p i m), slap+i, (slow p i m a) }"), Listener())
    assert words[0] == (
        "1: thumb and middle together. 2: roll thumb, index and middle. 3: index and slap the strings. "
        "4: roll slowly thumb, index, middle and ring."
    )


def test_a_brush_goes_over_its_strings():
    words = pattern_sentences(bars("E { p6-4, -, p4-6, - }"), Listener())
    assert words[0] == "1: thumb brushes strings 6 to 4. 3: thumb brushes strings 4 to 6."


def test_a_finger_on_several_strings_is_said_with_them():
    words = pattern_sentences(bars("E { p6, i3, p6, i2 }"), Listener())
    assert words == (
        "1: thumb. 2: index string 3. 3: thumb. 4: index string 2.",
        "The thumb stays on string 6.",
    )


def test_bars_that_are_picked_alike_are_said_once():
    words = pattern_sentences(bars("E { p6, i, p6, i } | E { p5, i, p5, i }"), Listener())
    assert words[0] == "Each bar. 1: thumb. 2: index. 3: thumb. 4: index."
    words = pattern_sentences(bars("E { p, i, p, i } | E { p, i, m, i }"), Listener())
    assert words[:2] == (
        "Bar 1. 1: thumb. 2: index. 3: thumb. 4: index.",
        "Bar 2. 1: thumb. 2: index. 3: middle. 4: index.",
    )


def test_what_begins_between_two_counts():
    assert pattern_sentences(bars("E { - p, -, -, - }"), Listener())[0] == "1 and: thumb."


def test_nothing_is_plucked():
    assert pattern_sentences(bars("E { -, -, -, - }"), Listener()) == ("Nothing is plucked.",)


def said(body: str, **how: object) -> str:
    return bar_sentence(bars(body)[0], Listener(), {"C": "C", "B7": "B7"}, **how)  # type: ignore[arg-type]


def test_a_bar_from_its_first_note_to_its_last():
    assert said("C:2 B7:2 using plain", lead="Bar 6", sung="lamps are lit") == (
        "Bar 6, C, from count 3 B7. 1: thumb string 5 fret 3. 2: thumb string 4 fret 2; and: middle string 2 fret 1. "
        "3: thumb string 5 fret 2; and: index string 3 fret 2. 4: thumb string 4 fret 1; and: middle string 2 open. "
        "Words: lamps are lit."
    )


def test_a_bar_that_comes_again():
    assert said("C using plain", lead="Bar 7", same=True) == "Bar 7, C. The same as the bar before."


def test_a_rest():
    assert said("rest", lead="Bar 1") == "Bar 1. Rest."


@pytest.mark.parametrize(
    ("pluck", "words"),
    [
        ("m2@1h3", "fret 1, hammer-on to fret 3"),
        ("m2@3p0", "fret 3, pull-off to the open string"),
        ("m2@3s5", "fret 3, slide to fret 5"),
        ("m2@1h3.grace", "fret 1, hammer-on to fret 3, quickly on the beat"),
        ("m2@3.bend-half", "fret 3, bent up half a tone"),
        ("m2@3.bend-full-release", "fret 3, bent up a whole tone and back"),
        ("m2@12*", "fret 12, as a harmonic"),
        ("mx", "fret 1, as a dead note"),
        ("m!", "fret 1, accented"),
        ("m.ring", "fret 1, left to ring"),
        ("m.damped", "fret 1, cut short"),
        ("m.vibrato", "fret 1, with vibrato"),
        ("m.for-2", "fret 1, held for two counts"),
        ("m.for-1/2", "fret 1, held for half a count"),
        ("m.for-3/2", "fret 1, held for one and a half counts"),
        ("m.for-1/4", "fret 1, held for 1/4 of a count"),
    ],
)
def test_how_a_note_is_made(pluck: str, words: str) -> None:
    assert said(f"C {{ {pluck}, -, -, - }}") == f"C. 1: middle string 2 {words}."


def test_what_the_hands_do_to_the_whole_bar():
    assert said("C { p, -, -, - } stop on 4").endswith("On count 4 all strings are damped.")
    assert said("C { p, -, -, - } fermata on 1").endswith("Wait on count 1.")
    assert said("C { p, -, -, - } release on 4&").endswith(
        "On the and of 4 the fretting hand lets go."
    )


def test_a_chord_that_comes_early():
    found = expanded("section verse using plain\n  C | B7 early on 4&\n").timeline.bars
    names = {"C": "C", "B7": "B seven"}
    assert chord_words(found[0].bar, names) == "C, and already from the and of 4 B seven"


@LESSONS.law(most=60)
def test_the_bars_of_any_lesson(made: Made) -> None:
    """Every note is said once, with its finger, string and fret, on its count."""
    for _, bar in made.timeline.distinct_bars():
        words = bar_sentence(bar, Listener(), {}, lead="Bar")
        plain = [note for note in bar.notes if not note.brush]
        found = re.findall(
            r"(thumb|index|middle|ring|little finger) string (\d+) (?:fret (\d+)|open)", words
        )
        assert sorted(
            (FINGERS[who.split()[0]], int(string), int(fret or 0)) for who, string, fret in found
        ) == sorted((note.finger, note.string, note.fret) for note in plain)
        counts = [bar.meter.count_at(bar.start + note.onset).number for note in bar.notes]
        counts += [bar.meter.count_at(bar.start + slap.onset).number for slap in bar.slaps]
        assert [
            int(one) for one in re.findall(r"(?<=\. )(\d+)(?: [^.:]{1,12})?:", words)
        ] == sorted(set(counts))
