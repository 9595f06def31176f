"""How loud each note is, in MIDI's velocities."""

from __future__ import annotations

import pytest
from attrs import evolve
from played_back import heard, one_bar
from timeline_lessons import expanded

from fretloom.performance.manner import Manner
from fretloom.performance.playback.loudness import ACCENT, DEGREES, FIRST, loudness_of
from fretloom.performance.playback.play import play


def loudness(body: str) -> list[int]:
    return [sound.loudness for sound in heard(body).sounds]


def test_the_degrees_are_sixteen_apart_and_the_loudest_is_the_loudest_there_is():
    """mf 80: common practice, no source; 127 is the most a MIDI velocity can be (MIDI 1.0 specification)."""
    assert DEGREES["mf"] == 80 and DEGREES["p"] == 48 and DEGREES["fff"] == 127


def test_without_a_word_a_lesson_is_moderately_loud_and_the_first_of_a_bar_a_little_louder():
    assert loudness("section verse using bassline\n  E\n") == [80 + FIRST, 80, 80, 80]


def test_a_degree_holds_until_another():
    body = "section verse using bassline\n  dynamic p\n  E\n  dynamic f\n  E\n"
    assert loudness(body) == [48 + FIRST, 48, 48, 48, 96 + FIRST, 96, 96, 96]


def test_accents_and_ghost_notes():
    assert [one.loudness for one in one_bar("p, p!, m2@3.ghost, -").sounds] == [
        80 + FIRST,
        80 + ACCENT,
        40,
    ]


def test_a_swell_goes_evenly_over_all_its_bars():
    """From p (48) to f (96) over eight beats: six a beat."""
    body = "section verse using bassline\n  dynamic p\n  crescendo to f over 2 bars\n  E | E\n  E\n"
    assert loudness(body) == [
        48 + FIRST, 54, 60, 66, 72 + FIRST, 78, 84, 90, 96 + FIRST, 96, 96, 96,
    ]  # fmt: skip


def test_a_swell_that_is_not_played_to_its_end_stays_where_it_is():
    body = "section verse using bassline\n  dynamic p\n  crescendo to f over 2 bars\n  E | E\n"
    (first, _) = expanded(body).timeline.bars
    assert [one.loudness for one in play([first], expanded(body).timeline.settings).sounds] == [
        48 + FIRST, 48, 48, 48,
    ]  # fmt: skip


@pytest.mark.parametrize("dynamic", ["ppp", "fff"])
def test_loudness_stays_between_1_and_127(dynamic):
    body = f"section verse\n  dynamic {dynamic}\n  E {{ p!, m2@3.ghost, p!, m }}\n"
    assert all(1 <= one <= 127 for one in loudness(body))


@pytest.mark.parametrize(
    ("swell", "first", "to", "end"), [("crescendo", True, "f", 96), ("diminuendo", False, "pp", 32)]
)
def test_a_swell_without_its_end_does_not_go_on_into_another(swell, first, to, end):
    """Into that of the next section, or into one the other way."""
    one, other = expanded("section verse using bassline\n  E | E\n").timeline.bars
    cut = evolve(one, manner=Manner(dynamic="p", swell="crescendo"))
    whole = evolve(other, first=first, manner=Manner(dynamic="p", swell=swell, dynamic_to=to))
    found = [(bar.start, bar.end) for bar in loudness_of([cut, whole])]
    assert found == [(48, 48), (48, end)]
