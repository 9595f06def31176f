"""Where chords and words stand in what is played."""

from __future__ import annotations

from fractions import Fraction

from midi_lessons import lesson, playback_of
from reading_through import reading_of

from fretloom.formats.sound.places import SoundPlaces


def test_chords_and_syllables_swing_with_the_notes() -> None:
    """The second half of a beat comes at two thirds of it."""
    text = lesson(
        'section verse\n  E | E D { p6 p6 , p6 p6 , p4 p4 , p4 p4 }\n  words: - | "a b c" on 1 2 3&\n',
        "swing 2:1",
    )
    time = playback_of(text).bars[1]
    places = SoundPlaces(reading_of(text).timeline.settings)
    assert time.played is not None
    assert list(places.chords(time, time.played)) == [(4, "E"), (6, "D")]
    assert list(places.words(time, time.played)) == [
        (4, "a"), (5, "b"), (6 + Fraction(2, 3), "c"),
    ]  # fmt: skip


def test_words_of_a_whole_bar_stand_at_its_start() -> None:
    text = lesson('section verse\n  E | E\n  words: - | "keep it"\n')
    times = playback_of(text).bars
    places = SoundPlaces(reading_of(text).timeline.settings)
    found = [list(places.words(time, time.played)) for time in times if time.played is not None]
    assert found == [[], [(4, "keep it")]]
