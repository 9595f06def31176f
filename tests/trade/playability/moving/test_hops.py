"""One finger in two places within a bar."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.playability.moving.hops import StoppedNote, hop_time, hops
from fretloom.trade.playability.moving.skills import ADVANCED, BEGINNER, INTERMEDIATE

NECK = Neck()


def _note(time, string, fret, finger="3", **more) -> StoppedNote:
    return StoppedNote(time, more.pop("ends", time), finger, string, fret, **more)


@pytest.mark.parametrize(
    ("gap", "skill", "rule"),
    [
        (1.0, BEGINNER, "hop"),
        (0.5, BEGINNER, "hop"),
        (0.3, BEGINNER, "hop-tight"),
        (0.1, INTERMEDIATE, "hop-too-fast"),
        (0.0, ADVANCED, "hop-too-fast"),
    ],
)
def test_the_ring_finger_of_c_goes_to_the_low_string(gap, skill, rule) -> None:
    """From string 5 to string 6 at fret 3: there is time for two beats at 120, not for a semiquaver."""
    (found,) = hops(NECK, [_note(0, 5, 3), _note(gap, 6, 3)], skill)
    assert found.rule == rule


@pytest.mark.parametrize(
    ("skill", "seconds"), [(BEGINNER, 0.21), (INTERMEDIATE, 0.13), (ADVANCED, 0.09)]
)
def test_the_next_string_takes_about_one_bit(skill, seconds) -> None:
    """A string's distance is about the width of the target."""
    assert hop_time(NECK, _note(0, 5, 3), _note(1, 6, 3), skill) == pytest.approx(
        seconds, abs=0.015
    )


def test_a_barre_needs_no_hop() -> None:
    """A finger that the voicing has on both strings stays where it is."""
    assert hops(NECK, [_note(0, 6, 1, home=True), _note(0, 1, 1, home=True)], INTERMEDIATE) == ()


def test_a_slide_is_no_hop() -> None:
    """A finger that slides to its note is there in time."""
    assert hops(NECK, [_note(0, 3, 2), _note(0.1, 3, 4, slid=True)], INTERMEDIATE) == ()


def test_a_note_that_should_ring_is_cut() -> None:
    """A note wanted past the hop ends at it."""
    found = hops(NECK, [_note(0, 5, 3, ends=4), _note(1, 6, 3)], INTERMEDIATE)
    assert [one.rule for one in found] == ["hop", "hop-cuts-note"]


PLACES = st.lists(
    st.tuples(st.floats(0, 2), st.integers(1, 6), st.integers(1, 7), st.sampled_from("1234")),
    max_size=8,
)
GRAVE = {"info": 0, "warning": 1, "error": 2}


@given(PLACES, st.sampled_from([BEGINNER, INTERMEDIATE, ADVANCED]))
def test_halving_the_tempo_never_adds_a_finding(places, skill) -> None:
    """Played half as fast, the same notes give no more findings and none graver."""
    places = sorted(places)
    fast = hops(
        NECK, [_note(time, string, fret, finger) for time, string, fret, finger in places], skill
    )
    slow = hops(
        NECK,
        [_note(2 * time, string, fret, finger) for time, string, fret, finger in places],
        skill,
    )
    assert len(slow) <= len(fast)
    assert sum(GRAVE[one.severity] for one in slow) <= sum(GRAVE[one.severity] for one in fast)
