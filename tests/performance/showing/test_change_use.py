"""How a song uses a change of voicing."""

from __future__ import annotations

from timeline_lessons import expanded

from fretloom.performance.showing.change_use import (
    ChangeUse,
    Need,
    changes_between,
    known,
    used_changes,
)
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.music.meter import parse_count


def use(body: str, before: str = "E", after: str = "A") -> ChangeUse:
    return changes_between(expanded(body).timeline, [(before, after)])[before, after].use


def test_changes_stand_in_the_order_of_their_first_time():
    """Each once, and none where the voicing goes on into the next bar."""
    found = used_changes(
        expanded("section verse using plain\n  E | E | A | E | A:2 D:2\n").timeline
    )
    assert [(one.before.name, one.after.name, one.use.times) for one in found] == [
        ("E", "A", 2),
        ("A", "E", 1),
        ("A", "D", 1),
    ]


def test_when_each_string_is_first_plucked():
    """From the change on, over as many bars as the voicing is held."""
    found = use("section verse\n  E { p, -, -, - } | A { p, - i, -, - } | A { a, -, -, - }\n")
    assert found.needs == {
        5: Need(0, 0, parse_count("1")),
        3: Need(0, 1, parse_count("2&")),
        1: Need(1, 4, parse_count("1")),
    }
    assert found.starts == (parse_count("1"),)


def test_the_first_of_several_times_counts():
    found = use("section verse using plain\n  E | A { p, -, i, - } | E | A { p, i, -, - }\n")
    assert found.needs[3] == Need(0, 1, parse_count("2"))
    found = use("section verse using plain\n  E | A { p, i, -, - } | E | A { p, -, i, - }\n")
    assert found.needs[3] == Need(0, 1, parse_count("2"))


def test_on_different_counts_only_the_counts_that_go_by_are_known():
    """On 1 and on 3: on either, one count goes by before string 3."""
    found = use("section verse\n  E { p, -, -, - } | A { p, i, -, - } | E:2 A:2 { p, -, p, i }\n")
    assert found.needs[3] == Need(0, 1, None)
    assert found.starts == (parse_count("1"), parse_count("3"))


def test_bars_of_rest_between_are_counted():
    """The voicing is still held: string 3 comes eight counts after it was taken, two bars later."""
    found = use("section verse\n  E { p, -, -, - } | A { p, -, -, - } | rest | A { i, -, -, - }\n")
    assert found.needs[3] == Need(2, 8, parse_count("1"))


def test_a_change_that_the_song_never_makes_has_no_use_but_its_strain():
    assert use("section verse using plain\n  E | A\n", "A", "C") == ChangeUse()


def test_what_strains_the_hand():
    """A barre over four strings; two fingers far apart."""
    text = "voicings\n  F  133211  fingers 134211\n  far  1x0004  fingers 1....4\nsection verse using plain\n  E | F\n"
    assert use(text, "E", "F").strains == ("barre",)
    assert use(text, "E", "far").strains == ("stretch",)


def test_a_barre_over_three_strings_is_a_small_one():
    text = "voicings\n  four  xx2222  fingers ..1111\n  three  xx0222  fingers ...111\nsection verse using plain\n  E\n"
    assert use(text, "E", "four").strains == ("barre",)
    assert use(text, "E", "three").strains == ()


def test_names_that_the_lesson_does_not_have_are_left_out():
    timeline = expanded("section verse using plain\n  E | A\n").timeline
    assert changes_between(timeline, [("E", "Z"), ("Z", "E")]) == {}


def test_open_strings_need_no_fingers_to_be_known():
    assert known(Voicing(name="open", frets=(0, 0, 0, 0)))
    assert not known(Voicing(name="odd", frets=(0, 0, 0, 2)))


def test_a_bar_without_a_chord_is_no_change():
    """The hand goes on to what comes after."""
    found = used_changes(
        expanded("section verse using plain\n  E | N.C. { -, -, -, - } | A\n").timeline
    )
    assert [(one.before.name, one.after.name) for one in found] == [("E", "A")]
