"""A pattern by itself: the same notes as in the song."""

from __future__ import annotations

from fractions import Fraction

from reading_through import reading_of

from fretloom.performance.showing.patterns_alone import patterns_alone

LESSON = """
lesson "Kiln Lane Evening"
  tuning standard
  meter 4/4

voicings
  C   x32010  bass 5 4 5 4
  G   320003

patterns
  plain  p , p m , p i , p m
  two    p , m , i , m | p+a , - , i , -
  three in 3/4: p , i , m

section verse  using plain
  C | G using three

form
  verse x2

step "See"
  show pattern plain over C
"""


def _plucks(bar):
    return [(note.onset, note.string, note.fret) for note in bar.notes]


def test_a_pattern_sounds_as_in_the_song():
    reading = reading_of(LESSON.replace("| G using three", "| G"))
    (alone,) = patterns_alone(reading, [("plain", "C")])["plain", "C"]
    assert _plucks(alone) == _plucks(reading.timeline.bars[0].bar)
    assert _plucks(alone)[0] == (Fraction(0), 5, 3)


def test_open_fingers_are_those_of_the_song():
    reading = reading_of(LESSON.replace("| G using three", "| G"))
    (alone,) = patterns_alone(reading, [("plain", "G")])["plain", "G"]
    assert alone.voicings[0].voicing == reading.timeline.voicings["G"]


def test_a_pattern_of_two_bars_has_both_and_one_with_a_meter_keeps_it():
    found = patterns_alone(reading_of(LESSON), [("two", "G"), ("three", "C"), ("two", "G")])
    assert [len(bars) for bars in found.values()] == [2, 1]
    assert [note.finger for note in found["two", "G"][1].notes][:2] == ["p", "a"]
    assert str(found["three", "C"][0].meter) == "3/4"


def test_what_the_lesson_does_not_have_is_left_out():
    assert patterns_alone(reading_of(LESSON), [("plain", "F"), ("none", "C")]) == {}
    assert patterns_alone(reading_of(LESSON), []) == {}
