"""Peaks stay below the ceiling, measured by samples between samples, and nothing else changes."""

from __future__ import annotations

import numpy as np
import pytest

from fretloom.formats.sound.recording.limiter import CEILING, CELL, cell_peaks, limited


def true_peak(sound: np.ndarray) -> float:
    """Return the largest of eight times as many samples, made by a longer spectrum."""
    size = sound.shape[1]
    return float(np.abs(np.fft.irfft(np.fft.rfft(sound, axis=1), 8 * size, axis=1)).max() * 8)


def in_chunks(sound: np.ndarray, size: int) -> np.ndarray:
    chunks = [sound[:, at : at + size] for at in range(0, sound.shape[1], size)]
    return np.concatenate(list(limited(chunks)), axis=1)


def loud(seed: int, length: int = 20_000) -> np.ndarray:
    rng = np.random.default_rng(seed)
    sound = rng.normal(size=(2, length)) * 0.05
    spectrum = np.fft.rfft(sound)
    spectrum[:, length // 5 :] = 0
    sound = np.fft.irfft(spectrum, length)
    for at in rng.integers(500, length - 500, 8):
        sound[:, at : at + 60] += 2 * np.hanning(60) * rng.choice([-1, 1])
    return sound.astype(np.float32)


@pytest.mark.parametrize("seed", range(5))
@pytest.mark.parametrize("size", [20_000, 4099])
def test_no_true_peak_is_over_a_decibel_below_full_scale(seed: int, size: int) -> None:
    """Peaks of 6 dB over it come down to it; the length stays."""
    sound = loud(seed)
    held = in_chunks(sound, size)
    assert held.shape == sound.shape
    assert true_peak(sound) > 1.5
    assert true_peak(held) < 10 ** (-1 / 20)


@pytest.mark.parametrize("place", range(2000, 2000 + CELL, 3))
def test_a_lone_peak_comes_down_wherever_it_lies(place: int) -> None:
    """At the edge of a cell as in its middle, and on a slope of the gain as well."""
    sound = np.zeros((2, 6000), np.float32)
    times = np.arange(6000)
    sound[0] = 1.6 * np.sinc((times - place) / 5) + np.sinc((times - place - 300) / 4)
    assert np.abs(in_chunks(sound, 6000)).max() <= CEILING * 1.0001


def test_the_chunks_make_no_difference() -> None:
    """Cut anywhere, also in pieces smaller than a cell."""
    sound = loud(7)
    whole = in_chunks(sound, 20_000)
    for size in (30, 1000, 7777):
        assert np.abs(in_chunks(sound, size) - whole).max() < 2e-5


def test_what_is_soft_enough_is_left_alone() -> None:
    """Far from a peak as well: a hundredth of a second later nothing has changed."""
    soft = loud(1) * np.float32(0.2)
    assert np.array_equal(in_chunks(soft, 5000), soft)
    sound = np.full((2, 4000), 0.1, np.float32)
    sound[:, 2000] = 2
    held = in_chunks(sound, 4000)
    assert np.array_equal(held[:, :1400], sound[:, :1400])
    assert np.array_equal(held[:, 2600:], sound[:, 2600:])
    assert held[0, 1990] < 0.06


@pytest.mark.parametrize("length", [0, 1, 44, 45, 1000])
def test_short_sounds_stay_as_long_as_they_are(length: int) -> None:
    """Nothing, one sample, a little more."""
    assert sum(one.shape[1] for one in limited([np.ones((2, length), np.float32)])) == length


def test_a_peak_between_samples_is_found() -> None:
    """A sine at a quarter of the rate whose samples all lie beside its peaks: 3 dB more than they say."""
    sound = np.sin(np.pi / 2 * np.arange(50 * CELL) + np.pi / 4)
    peaks = cell_peaks(np.stack((sound, sound)).astype(np.float32))
    assert peaks[10:40].min() > 0.98
    assert np.abs(sound).max() < 0.71 < CEILING
