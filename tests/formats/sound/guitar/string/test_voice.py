"""A string from its pluck to the end of its sound."""

from __future__ import annotations

import numpy as np
import pytest
from attrs import evolve
from heard import RATE, above, decibels, heard, partial_level, playback_of, voices


@pytest.mark.parametrize("pluck", ["p6@0", "p5@2", "i3@0", "a1@0"])
@pytest.mark.parametrize("beats", ["1/4", "1", "3"])
def test_a_string_that_is_let_go_is_silent_at_once(pluck: str, beats: str) -> None:
    """30 dB down within a quarter of a second, in the room as well, and without a click."""
    playback, settings = playback_of(f"O {{ {pluck}.for-{beats} , - , - , - }}", "tempo 60")
    end = float(playback.clock.seconds(playback.sounds[0].until))
    sound = heard(playback, settings)
    before = decibels(sound, end - 0.05, end)
    assert decibels(sound, end + 0.23, end + 0.27) < before - 30
    assert np.isfinite(sound).all()
    ((_, string),) = voices(playback, settings)
    high = above(string, 4000)
    loudest = 20 * np.log10(np.abs(string).max())
    there = decibels(high, end - 0.001, end + 0.011)
    assert there < max(decibels(high, end - 0.02, end - 0.01) + 1, loudest - 90)


def test_damping_is_quicker_than_letting_go() -> None:
    """A palm on the strings against a finger that leaves its fret."""
    ends = []
    for word in ("damped", "for-1"):
        playback, settings = playback_of(f"O {{ p5@3.{word} , - , - , - }}", "tempo 60")
        ((_, sound),) = voices(playback, settings)
        ends.append(decibels(sound, 1.08, 1.1) - decibels(sound, 0.95, 0.98))
    assert ends[0] < ends[1] - 5 < -20


def test_strings_ring_on_at_the_end_and_not_into_a_bar_that_is_counted() -> None:
    """There the player stops them, so that the counts are heard."""
    playback, settings = playback_of("O { p6 , - , - , - } | O { p6 , - , - , - }", "tempo 120")
    ends = [one.changes[-1] for one, _ in voices(playback, settings)]
    first = evolve(playback.sounds[0], until=playback.bars[1].start, ends="out")
    counted = evolve(playback.bars[1], played=None)
    stopped = evolve(playback, bars=(playback.bars[0], counted), sounds=(first,))
    ((one, sound),) = voices(stopped, settings)
    assert one.changes[-1].at == 2 * RATE
    assert decibels(sound, 2.3, 2.34) < decibels(sound, 1.9, 2.0) - 30
    assert ends[-1].at == 2 * RATE + int(2.5 * RATE)


def test_high_partials_stop_sooner_than_low_ones() -> None:
    """A finger that touches a string takes the highs first."""
    playback, settings = playback_of("O { a1@0.damped , - , - , - }", "tempo 120")
    ((_, sound),) = voices(playback, settings)
    falls = [
        partial_level(sound, hertz, 0.46, 0.5) - partial_level(sound, hertz, 0.53, 0.57)
        for hertz in (329.63, 329.63 * 6)
    ]
    assert falls[1] > falls[0] * 1.4 > 40


def test_one_string_never_sounds_twice() -> None:
    """The finger that plucks again has stopped what was there: the next pluck is as if nothing had been before."""
    playback, settings = playback_of("O { p6 , p6 , p6 , p6 }", "tempo 120")
    (one, sound), (two, _), *_ = voices(playback, settings)
    at = two.start - one.start
    # A hundredth of a second before the pluck it is going, and at the pluck there is little left.
    assert decibels(sound[at:], 0, 0.01) < decibels(sound[: at - RATE // 20], 0.2, 0.4) - 9
    assert decibels(sound[at:], 0.1, 0.15) < decibels(sound, 0.1, 0.2) - 60


def test_a_dead_note_is_short_and_has_a_pitch_no_longer() -> None:
    """It is gone within a tenth of a second."""
    playback, settings = playback_of("O { p5x , - , - , - }", "tempo 60")
    ((_, sound),) = voices(playback, settings)
    assert decibels(sound, 0.12, 0.15) < decibels(sound, 0.002, 0.02) - 45


def test_a_ghost_note_is_felt_more_than_heard() -> None:
    """8 to 14 dB softer than a plain one, and an accent 2 dB louder at least."""
    levels = []
    for mark in (".ghost", "", "!"):
        playback, settings = playback_of(f"O {{ - , m2{mark} , - , - }}", "tempo 60")
        ((_, sound),) = voices(playback, settings)
        levels.append(decibels(sound, 0.02, 0.3))
    ghost, plain, accent = levels
    assert plain - 14 < ghost < plain - 8
    assert plain + 2 < accent < plain + 6


def test_a_loud_pluck_is_brighter_too() -> None:
    """What is above 2 kHz grows more than the whole."""
    levels = []
    for mark in (".ghost", "!"):
        playback, settings = playback_of(f"O {{ - , m2{mark} , - , - }}", "tempo 60")
        ((_, sound),) = voices(playback, settings)
        levels.append(decibels(above(sound, 2000), 0.0, 0.1) - decibels(sound, 0.0, 0.1))
    assert levels[1] > levels[0] + 0.5


def test_the_thumb_sounds_rounder_than_a_finger() -> None:
    """The same string, plucked by flesh further from the bridge."""
    shares = []
    for finger in "pm":
        playback, settings = playback_of(f"O {{ {finger}4@0 , - , - , - }}", "tempo 60")
        ((_, sound),) = voices(playback, settings)
        shares.append(decibels(above(sound, 1500), 0.0, 0.2) - decibels(sound, 0.0, 0.2))
    assert shares[0] < shares[1] - 1
