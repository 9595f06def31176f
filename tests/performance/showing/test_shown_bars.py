"""What a line of a step shows, as bars to be played."""

from __future__ import annotations

from fractions import Fraction

from reading_through import reading_of
from timeline_lessons import HEAD

from fretloom.notation.model.step import Show
from fretloom.performance.events import PlayedBar
from fretloom.performance.showing.patterns_alone import FirstOvers
from fretloom.performance.showing.shown_bars import shown_bars

BODY = """
section verse using plain "Verse"
  pickup from 4: E { m }
  E | A | E:2 B7:2 | E

section coda using plain
  A | E

form
  verse
    but last bar: A
  verse
  coda
"""


def shown(**fields: object) -> tuple[PlayedBar, ...]:
    reading = reading_of(HEAD.format(fields="  tempo 80\n") + BODY)
    return shown_bars(reading, Show(**fields))  # type: ignore[arg-type]


def test_the_song_is_all_bars():
    assert [one.index for one in shown(kind="form")] == list(range(1, 13))


def test_a_section_is_played_as_it_comes_first():
    assert [one.index for one in shown(kind="section", name="verse")] == [1, 2, 3, 4, 5]


def test_bars_are_those_of_the_section_as_they_are_numbered():
    bars = shown(kind="bars", name="verse", first=2, last=3)
    assert [one.place for one in bars] == [2, 3] and [one.index for one in bars] == [3, 4]


def test_a_change_is_the_bar_before_it_and_the_one_that_it_leads_into():
    bars = shown(kind="change", name="A", over="E")
    assert [one.index for one in bars] == [3, 4]


def test_a_change_within_a_bar_is_that_bar():
    assert [one.index for one in shown(kind="change", name="E", over="B7")] == [4]


def test_a_change_that_the_song_does_not_have_has_no_bars():
    assert shown(kind="change", name="B7", over="D") == ()


def test_a_pattern_is_played_over_the_voicing_that_it_is_shown_on_or_has_first():
    (over_a,) = shown(kind="pattern", name="plain", over="A")
    assert over_a.bar.voicings[0].voicing.name == "A" and over_a.tempo.per_minute == 80
    (first,) = shown(kind="pattern", name="plain")
    assert first.bar.voicings[0].voicing.name == "E"
    (unused,) = shown(kind="pattern", name="bassline")
    assert unused.bar.voicings[0].voicing.name == "E"


def test_a_shape_is_rolled_slowly_from_its_lowest_string():
    (bar,) = shown(kind="voicing", name="D")
    assert [(one.string, one.fret, one.midi) for one in bar.bar.notes] == [
        (4, 0, 50), (3, 2, 57), (2, 3, 62), (1, 2, 66),
    ]  # fmt: skip
    assert [one.order for one in bar.bar.notes] == [0, 1, 2, 3]
    assert {one.onset for one in bar.bar.notes} == {Fraction(0)}
    assert all(one.technique.slow for one in bar.bar.notes)


def test_what_the_lesson_does_not_have_has_no_bars():
    for kind in ("voicing", "pattern", "section"):
        assert shown(kind=kind, name="nothing") == ()


def test_over_a_bar_of_rest_there_is_no_change():
    text = HEAD.format(fields="") + "section verse using plain\n  E | rest | A\n"
    show = Show(kind="change", name="E", over="A")
    assert shown_bars(reading_of(text), show) == ()


def test_a_pattern_is_shown_over_the_first_voicing_and_not_over_a_later_one():
    text = HEAD.format(fields="") + "section verse using plain\n  A | E | D\n"
    overs = FirstOvers(reading_of(text).timeline)
    assert (overs.of("plain"), overs.of("bassline")) == ("A", "E")
