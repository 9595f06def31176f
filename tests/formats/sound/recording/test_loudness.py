"""Loudness as others measure it: pyloudnorm is an independent implementation of ITU-R BS.1770-4."""

from __future__ import annotations

import math

import numpy as np
import pyloudnorm
import pytest
from heard import RATE, heard, playback_of, played_file
from places import EXAMPLES

from fretloom.formats.sound.guitar.body import CHUNK
from fretloom.formats.sound.recording.level import Level, level_for, level_of
from fretloom.formats.sound.recording.loudness import LoudnessMeter


def measured(sound: np.ndarray) -> float:
    meter = LoudnessMeter()
    for start in range(0, sound.shape[1], CHUNK):
        meter.take(sound[:, start : start + CHUNK].astype(np.float32))
    return meter.loudness()


def test_a_sine_is_as_loud_as_the_recommendation_says() -> None:
    """-3.01 LUFS for a full sine of 997 Hz in one channel (ITU-R BS.1770-4, annex 1)."""
    sine = np.sin(2 * np.pi * 997 * np.arange(5 * RATE) / RATE)
    assert measured(np.stack((sine, 0 * sine))) == pytest.approx(-3.01, abs=0.02)


@pytest.mark.parametrize("seed", range(4))
def test_it_measures_what_others_measure(seed: int) -> None:
    """Noise that comes and goes, so that both gates have something to do."""
    rng = np.random.default_rng(seed)
    sound = rng.normal(size=(2, 6 * RATE)) * 0.1
    sound *= np.repeat(rng.choice([1, 0.5, 0.02, 0.0], 12), RATE // 2)
    sound = np.cumsum(sound, axis=1) * 0.05 if seed % 2 else sound
    expected = pyloudnorm.Meter(RATE).integrated_loudness(sound.T)
    assert measured(sound) == pytest.approx(expected, abs=0.1)


def test_silence_and_what_is_shorter_than_a_block() -> None:
    """Minus infinity for silence; a tenth of a second counts as if it went on."""
    assert measured(np.zeros((2, RATE))) == -math.inf
    assert measured(np.zeros((2, 0))) == -math.inf
    sine = np.sin(2 * np.pi * 997 * np.arange(RATE // 5) / RATE)
    assert measured(np.stack((sine, 0 * sine))) == pytest.approx(-3.01, abs=0.5)


def test_the_level_of_a_lesson_brings_it_to_its_loudness() -> None:
    """And it is the same however often it is asked for."""
    playback, settings = played_file(EXAMPLES / "ferry-at-the-weir.lesson")
    level = level_of(playback, settings)
    loudness = pyloudnorm.Meter(RATE).integrated_loudness(heard(playback, settings).T.astype(float))
    assert loudness + 20 * math.log10(level.gain) == pytest.approx(-18, abs=0.1)
    assert level_of(playback, settings) == level


def test_a_lesson_that_begins_softly_is_measured_further_on() -> None:
    """Three minutes say how loud it is, not its first bars."""
    soft, loud = "O { m2.ghost , - , m2.ghost , - }", "O { p6! m2! , i3! , p4!+m2! , i3! a1! }"
    levels = [
        level_of(*playback_of(bars, "tempo 60")).gain
        for bars in (f"{soft} | {soft}", f"{soft} | {soft} | {loud} | {loud} | {loud}")
    ]
    assert levels[0] > 3 * levels[1]


def test_what_is_nearly_silent_is_not_blown_up() -> None:
    """Silence has no level, and a whisper is raised by 40 dB at most."""
    assert level_for(-math.inf) == Level(1.0)
    assert level_for(-65.0) == Level(100.0)
    assert level_for(-18.0) == Level(1.0)
