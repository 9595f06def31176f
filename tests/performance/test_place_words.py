"""Places in a student's words, and bars as findings name them."""

from __future__ import annotations

import pytest
from timeline_lessons import expanded

from fretloom.performance.events import PlayedBar, Settings
from fretloom.performance.place_words import Whereabouts, bar_words, fretted_words, string_words

SONG = """
section verse using plain
  E | A | B7

section chorus "The kiln" using plain
  E | A
  last 3: E

section bridge "Take 5" using plain
  D

form
  verse x2
  chorus
  bridge
  verse
    but last bar: E x2
  bridge
"""


def _bars(body: str) -> tuple[PlayedBar, ...]:
    return expanded(body).timeline.bars


def _words(body: str) -> list[str]:
    bars = _bars(body)
    places = Whereabouts(bars)
    return [places.bar(one) for one in bars]


def _settings(*fields: str) -> Settings:
    return expanded(SONG, *fields).timeline.settings


def test_findings_count_bars_through_the_song() -> None:
    """The number of the bar in performance, and the section it is of."""
    bars = _bars(SONG)
    assert [bar_words(bars[at]) for at in (0, 4)] == ["bar 1 (verse)", "bar 5 (verse)"]


def test_a_pickup_at_the_very_start_has_no_number() -> None:
    """Bar 1 is the first full one."""
    bars = _bars("section tune using plain\n  pickup 1: E\n  E | A\n  last 3: E\n")
    assert [bar_words(one) for one in bars[:2]] == ["the pickup (tune)", "bar 1 (tune)"]


def test_students_find_section_playing_and_bar() -> None:
    """Playings are counted through the form, bars within each as they are played."""
    assert _words(SONG) == [
        "Verse 1, bar 1",
        "Verse 1, bar 2",
        "Verse 1, last bar",
        "Verse 2, bar 1",
        "Verse 2, bar 2",
        "Verse 2, last bar",
        "The kiln, bar 1",
        "The kiln, bar 2",
        "The kiln, last bar",
        "Take 5, 1st time",
        "Verse 3, bar 1",
        "Verse 3, bar 2",
        "Verse 3, bar 3",
        "Verse 3, last bar",
        "Take 5, 2nd time",
    ]


def test_pickups_do_not_count() -> None:
    """They are named, in every playing."""
    body = "section tune using plain\n  pickup 1: E\n  E | A\n  last 3: E\nform\n  tune x2\n"
    assert _words(body)[:5] == [
        "Tune 1, pickup",
        "Tune 1, bar 1",
        "Tune 1, bar 2",
        "Tune 1, last bar",
        "Tune 2, pickup",
    ]


def test_repeats_count_as_played() -> None:
    """Two bars in a repeat are four."""
    words = _words("section tune using plain\n  repeat 2\n    E | A\n  end\n")
    assert words == ["Tune, bar 1", "Tune, bar 2", "Tune, bar 3", "Tune, last bar"]


@pytest.mark.parametrize(
    ("string", "said"), [(6, "low E"), (5, "A"), (4, "D"), (3, "G"), (2, "B"), (1, "high E")]
)
def test_strings_are_named_by_their_notes(string: int, said: str) -> None:
    """Standard tuning: the two that sound E are called by their height (common practice)."""
    assert string_words(_settings(), string) == said


def test_many_strings_of_one_name_keep_their_numbers() -> None:
    """DADGAD has three strings D and two strings A."""
    settings = _settings("tuning DADGAD")
    words = [string_words(settings, string) for string in (6, 5, 4, 3, 2, 1)]
    assert words == ["D (string 6)", "low A", "D (string 4)", "G", "high A", "D (string 1)"]


def test_two_strings_of_one_pitch_keep_their_numbers() -> None:
    """Neither of them is the low one."""
    settings = _settings("tuning E2 A2 D3 G3 G3 E4")
    assert [string_words(settings, one) for one in (3, 2)] == ["G (string 3)", "G (string 2)"]


def test_strings_are_named_as_the_lesson_names_notes() -> None:
    """In German naming the second string is H."""
    settings = expanded(SONG.replace("B7", "E"), "names german").timeline.settings
    assert string_words(settings, 2) == "H"


def test_places_count_frets_from_the_capo() -> None:
    """The capo changes neither the name of a string nor the count."""
    settings = _settings("capo 2")
    assert fretted_words(settings, 3, 3) == "G, 3rd fret"
    assert fretted_words(settings, 6, 0) == "low E, open"
    assert fretted_words(settings, 1, 12) == "high E, 12th fret"
