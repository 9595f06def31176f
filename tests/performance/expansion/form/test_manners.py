"""How fast and how loud bars are, as lines ask for it and as playings change it."""

from __future__ import annotations

from fractions import Fraction

import pytest
from timeline_lessons import expanded, messages, rules

from fretloom.performance.events import PlayedBar


def played(body: str, *fields: str) -> tuple[PlayedBar, ...]:
    expansion = expanded(body, *fields)
    assert messages(expansion) == []
    return expansion.timeline.bars


def speeds(body: str, *fields: str) -> list[tuple[object, object]]:
    """Return the tempo at the start and at the end of each bar, in quarters a minute."""
    return [
        (
            one.tempo.quarters_per_minute,
            one.manner.tempo_to and one.manner.tempo_to.quarters_per_minute,
        )
        for one in played(body, *fields)
    ]


SECTION = "section verse using plain\n"


def test_a_ritardando_is_even_over_its_bars() -> None:
    """From 90 to 60 over three bars it loses 10 in each; then it stays."""
    body = SECTION + "  C\n  ritardando to 60 over 3 bars\n  C | C | C\n  C\n"
    assert speeds(body, "tempo 90") == [(90, None), (90, 80), (80, 70), (70, 60), (60, None)]


def test_bars_of_different_length_share_it_by_their_length() -> None:
    """A bar of 2/4 gets half of what a bar of 4/4 gets."""
    body = SECTION + "  accelerando to 120 over 2 bars\n  C\n  meter 2/4\n  C { p, p }\n"
    assert speeds(body, "tempo 90") == [(90, 110), (110, 120)]


def test_a_tempo_and_a_new_tempo_end_it() -> None:
    """`a tempo` is the tempo the section began with, whatever the playing made of it."""
    body = (
        SECTION + "  ritardando to 60 over 1 bar\n  C\n  a tempo\n  C\n  tempo 72\n  C\n"
        "form\n  verse\n  verse\n    but tempo 80\n"
    )
    once = [(90, 60), (90, None), (72, None)]
    assert speeds(body, "tempo 90") == [*once, (80, 60), (80, None), (72, None)]


def test_the_unit_of_the_tempo_it_leads_to() -> None:
    """From 90 quarters to 40 dotted quarters (60 quarters): half way is 50 dotted quarters."""
    body = "section verse\n  ritardando to 40 to 3/8 over 2 bars\n  C { p, p } | C { p, p }\n"
    bars = played(body, "meter 6/8", "tempo 90")
    assert [one.manner.tempo_to.per_minute for one in bars] == [50, 40]
    assert bars[1].tempo.unit == Fraction(3, 2)


def test_free_time_lasts_to_a_tempo() -> None:
    """No steady beat from there on in the section."""
    body = SECTION + "  C\n  free time\n  C\n  a tempo\n  C\n  free time\n  C\n  tempo 90\n  C\n"
    assert [one.manner.free for one in played(body)] == [False, True, False, True, False]


def test_loudness_lasts_over_the_sections_that_follow() -> None:
    """As in any score: until another degree stands there."""
    body = (
        "section intro using plain\n  C\n  dynamic mf\n  C\nsection verse using plain\n  C\n"
        "  crescendo to f over 2 bars\n  C | C\n  C\nform\n  intro\n  verse\n  intro\n"
    )
    assert [
        (one.manner.dynamic, one.manner.swell, one.manner.dynamic_to) for one in played(body)
    ] == [
        ("", "", ""),
        ("mf", "", ""),
        ("mf", "", ""),
        ("mf", "crescendo", ""),
        ("mf", "crescendo", "f"),
        ("f", "", ""),
        ("f", "", ""),
        ("mf", "", ""),
    ]


def test_what_a_playing_changes_is_for_it_alone() -> None:
    """Softer the second time; the third goes on as the section says."""
    body = (
        SECTION + "  dynamic f\n  C | C | C\nform\n  verse\n  verse\n    but dynamic p\n"
        "  verse\n    but bars 2-3 dynamic mp\n  verse\n    but diminuendo to p over last 2 bars\n"
    )
    loud = [one.manner.dynamic for one in played(body)]
    assert loud == ["f"] * 3 + ["p"] * 3 + ["f", "mp", "mp"] + ["f"] * 3
    last = played(body)[-2:]
    assert [(one.manner.swell, one.manner.dynamic_to) for one in last] == [
        ("diminuendo", ""),
        ("diminuendo", "p"),
    ]


def test_a_playing_that_slows_down_at_its_end() -> None:
    """Over the last two bars, only that time."""
    body = (
        SECTION + "  C | C | C\nform\n  verse\n    but ritardando to 60 over last 2 bars\n  verse\n"
    )
    assert speeds(body, "tempo 80") == [(80, None), (80, 70), (70, 60)] + [(80, None)] * 3


def test_some_bars_of_a_playing_in_another_tempo() -> None:
    """Then as before."""
    body = SECTION + "  C | C | C\nform\n  verse\n    but bar 2 tempo 60\n"
    assert speeds(body, "tempo 80") == [(80, None), (60, None), (80, None)]


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ("ritardando to 120 over 1 bar", "a ritardando from 90 to 120 does not get slower"),
        ("accelerando to 60 over 1 bar", "an accelerando from 90 to 60 does not get faster"),
        ("ritardando to 90 over 1 bar", "a ritardando from 90 to 90 does not get slower"),
        ("dynamic f\n  crescendo to p over 1 bar", "a crescendo from f to p does not get louder"),
        ("dynamic p\n  diminuendo to p over 1 bar", "a diminuendo from p to p does not get softer"),
    ],
)
def test_the_wrong_way_is_said(line: str, message: str) -> None:
    """Once, however often the section is played."""
    found = expanded(SECTION + f"  {line}\n  C\nform\n  verse x3\n", "tempo 90")
    assert [(one.rule, one.message) for one in found.diagnostics] == [("wrong-direction", message)]


@pytest.mark.parametrize(
    "body",
    [
        "  ritardando to 60 over 3 bars\n  C | C\n",
        "  C\n  crescendo to f over 1 bar\n",
        "  ritardando to 60 over 2 bars\n  C\n  a tempo\n  C\n",
    ],
)
def test_more_bars_than_there_are(body: str) -> None:
    """The section ends, or another line takes over."""
    assert rules(expanded(SECTION + body, "tempo 90")) == ["no-such-bar"]


def loudness(body: str) -> list[str]:
    return [one.manner.dynamic for one in played(body)]


def test_after_a_softer_playing_it_goes_on_as_before() -> None:
    """The verse says nothing itself; what its playing said is over with it."""
    body = (
        "section intro using plain\n  dynamic mf\n  C\nsection verse using plain\n  C\n"
        "form\n  intro\n  verse\n    but dynamic p\n  verse\n"
    )
    assert loudness(body) == ["mf", "p", "mf"]


def test_a_playing_begins_softer_and_the_section_goes_on() -> None:
    """A degree that the section gives later counts in every playing."""
    body = SECTION + "  dynamic mf\n  C\n  dynamic f\n  C\nform\n  verse\n    but dynamic p\n"
    assert loudness(body) == ["p", "f"]


def test_a_crescendo_up_to_the_end_leads_into_the_next_section() -> None:
    """There it is as loud as the crescendo has made it."""
    body = (
        SECTION + "  dynamic p\n  crescendo to f over 1 bar\n  C\nsection outro using plain\n  C\n"
        "form\n  verse\n  outro\n"
    )
    assert loudness(body) == ["p", "f"]


def test_what_an_even_change_leads_to_stays_up_to_the_next_change() -> None:
    """For the rest of the playing, or up to the bars that another change is for."""
    body = SECTION + "  C | C | C | C\nform\n  verse\n    but ritardando to 60 over bar 1\n"
    assert speeds(body, "tempo 80") == [(80, 60)] + [(60, None)] * 3
    body += "    but bar 3 tempo 70\n"
    assert speeds(body, "tempo 80") == [(80, 60), (60, None), (70, None), (80, None)]


def test_changed_bars_are_as_fast_and_loud_as_the_section_there() -> None:
    """Other chords, the same manner."""
    body = SECTION + "  C\n  dynamic f\n  tempo 60\n  C\nform\n  verse\n    but bar 2: E\n"
    assert speeds(body, "tempo 80") == [(80, None), (60, None)]
    assert loudness(body) == ["", "f"]


def test_a_softer_playing_is_soft_until_the_section_says_otherwise() -> None:
    """Also where the section comes back to the degree it began with."""
    body = (
        SECTION + "  dynamic mf\n  C\n  crescendo to f over 1 bar\n  C\n  dynamic mf\n  C\n"
        "form\n  verse\n    but dynamic p\n"
    )
    assert [(one.manner.dynamic, one.manner.dynamic_to) for one in played(body)] == [
        ("p", ""),
        ("p", "f"),
        ("mf", ""),
    ]


def test_changes_count_in_the_order_of_their_bars() -> None:
    """However they are written."""
    body = SECTION + "  C | C | C | C\nform\n  verse\n    but bar 3 tempo 70\n"
    body += "    but ritardando to 60 over bar 1\n"
    assert speeds(body, "tempo 80") == [(80, 60), (60, None), (70, None), (80, None)]
