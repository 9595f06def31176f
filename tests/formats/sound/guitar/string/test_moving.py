"""What the fretting hand does to a string that sounds: the pitches it comes to, and no click on the way."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from heard import RATE, above, cents_off, decibels, hertz_of, partial_level, playback_of, voices

OPEN = {1: 64, 2: 59, 3: 55, 4: 50, 5: 45, 6: 40}


def string_of(pluck: str, tempo: str = "tempo 60") -> np.ndarray:
    """Return one pluck of a slow bar, as it pushes at the bridge."""
    (found,) = voices(*playback_of(f"O {{ {pluck} , - , - , - }}", tempo))
    return found[1]


@pytest.mark.parametrize(
    ("pluck", "string", "before", "at", "after"),
    [
        ("i3@0h2", 3, 0, 0.5, 2),
        ("p6@3h5", 6, 3, 0.5, 5),
        ("i3@2p0", 3, 2, 0.5, 0),
        ("a1@5p3", 1, 5, 0.5, 3),
        ("i3@2s4", 3, 2, 0.5, 4),
        ("p6@7s2", 6, 7, 0.5, 2),
        ("m2@3.bend-half", 2, None, 0.25, 4),
        ("m2@3.bend-full", 2, None, 0.25, 5),
        ("m2@3.prebend-full", 2, 5, 0.0, 5),
        ("m2@3.prebend-full-release", 2, 5, 0.75, 3),
        ("m2@3.bend-full-release", 2, None, 0.75, 3),
        ("a1@3.trill-5", 1, None, 1.0, 3),
    ],
)
def test_a_string_comes_to_the_pitch_of_its_new_fret(
    pluck: str, string: int, before: int | None, at: float, after: int
) -> None:
    """Within 0.3 cents of equal temperament, as where it began."""
    sound = string_of(pluck)
    if before is not None and at:
        assert abs(cents_off(sound, hertz_of(OPEN[string] + before), 0.01, at - 0.15)) < 1.5
    assert abs(cents_off(sound, hertz_of(OPEN[string] + after), at + 0.03, 1.0)) < 0.3


@pytest.mark.parametrize("pluck", ["i3@0h2", "p6@0h3", "i3@2p0", "p6@3p0"])
def test_a_slur_is_a_little_softer_than_its_pluck(pluck: str) -> None:
    """It neither swells nor breaks off: what the string had and what the finger gives."""
    sound = string_of(pluck)
    first, last, next_one = (decibels(sound, at, at + 0.06) for at in (0.005, 0.43, 0.51))
    assert last - 4 < next_one < last + 3.5
    assert next_one < first - 1


@pytest.mark.parametrize("pluck", ["i3@0h2", "p6@0h3", "i3@2p0", "p6@3p0"])
def test_a_slur_does_not_click(pluck: str) -> None:
    """Where it begins, samples are no further apart than in the note that follows."""
    steps = np.abs(np.diff(string_of(pluck)))
    at = RATE // 2
    assert steps[at - 150 : at + 150].max() < 1.3 * steps[at + 200 : at + 2500].max()


def test_a_pull_off_plucks_the_string_a_little() -> None:
    """It is louder than what was left of the pluck after three seconds."""
    sound = string_of("i3@2p0", "tempo 10")
    assert decibels(sound, 3.005, 3.1) > decibels(sound, 2.9, 2.99) + 3


def test_a_hammer_on_sounds_by_itself() -> None:
    """After three seconds there is little left of the pluck, and the finger makes a note of its own."""
    sound = string_of("i3@0h2", "tempo 10")
    assert decibels(sound, 3.005, 3.1) > decibels(sound, 2.9, 2.99) + 6


def test_a_slide_loses_a_little() -> None:
    """2 to 3 dB more than the string alone loses in that time."""
    slid, left = string_of("p6@2s4"), string_of("p6@2")
    lost = decibels(left, 0.52, 0.6) - decibels(slid, 0.52, 0.6)
    assert 1.5 < lost < 4


def test_a_finger_is_heard_that_slides_along_a_wound_string() -> None:
    """Above 5 kHz, softly; along a plain string much less."""
    levels = []
    for pluck in ("p6@2s4", "a1@2s4"):
        sound = string_of(pluck)
        high = above(sound, 5000)
        levels.append(decibels(high, 0.42, 0.46) - max(decibels(high, 0.3, 0.36), -95))
    assert levels[0] > 15
    assert levels[1] < 10


@pytest.mark.parametrize("pluck", ["i3@2s4", "m2@3.bend-full", "m2@3.vibrato"])
def test_nothing_is_heard_of_where_a_glide_ends(pluck: str) -> None:
    """Above 6 kHz there is no more at the end of a move than before it."""
    sound = above(string_of(pluck), 6000)
    at = 0.25 if "bend" in pluck else 0.5 if "s4" in pluck else 0.18
    assert decibels(sound, at - 0.002, at + 0.008) < decibels(sound, at - 0.03, at - 0.02) + 1


def test_vibrato_goes_up_and_down_around_the_note() -> None:
    """By a seventh of a semitone, five times a second."""
    sound = string_of("m2@3.vibrato")
    bend = [cents_off(sound, hertz_of(62), 0.6 + step * 0.02, 0.08) for step in range(40)]
    assert 6 < max(bend) < 16
    assert -16 < min(bend) < -6
    rises = sum(one < 0 <= other for one, other in pairwise(bend))
    assert rises in (4, 5)


def test_a_slide_passes_the_pitches_between() -> None:
    """In its middle it is neither here nor there."""
    sound = string_of("i3@2s7")
    middle = partial_level(sound, hertz_of(59.5), 0.42, 0.46)
    assert middle > partial_level(sound, hertz_of(57), 0.42, 0.46)
    assert middle > partial_level(sound, hertz_of(62), 0.42, 0.46)


@pytest.mark.parametrize(
    ("pluck", "string", "held", "times"),
    [
        ("a3@12*", 3, 0, 2),
        ("a3@7*", 3, 0, 3),
        ("a4@5*", 4, 0, 4),
        ("a2@3.harmonic-15", 2, 3, 2),
        ("a3@2.harmonic-9", 3, 2, 3),
    ],
)
def test_a_harmonic_has_only_the_partials_with_a_node(
    pluck: str, string: int, held: int, times: int
) -> None:
    """The string itself is not heard, and a multiple of its frequency is; partials are not tempered."""
    sound = string_of(pluck)
    string_hertz = hertz_of(OPEN[string] + held)
    heard = partial_level(sound, string_hertz * times, 0.1, 0.6)
    for other in range(1, times):
        assert partial_level(sound, string_hertz * other, 0.1, 0.6) < heard - 50
    assert abs(cents_off(sound, string_hertz * times, 0.02)) < 2
    fall = partial_level(sound, string_hertz * times, 0.1, 0.4) - heard
    assert 0 < fall < 6
