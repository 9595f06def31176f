"""The product of matrices is the sum of the partials."""

from __future__ import annotations

import numpy as np
import pytest

from fretloom.formats.sound.guitar.string.waves import gliding, partials

RNG = np.random.default_rng(3)
RATES = -RNG.uniform(1e-5, 1e-3, 40) + 1j * RNG.uniform(0.01, 2.5, 40)
AMPLITUDES = RNG.normal(size=40) + 1j * RNG.normal(size=40)


def summed(times: np.ndarray) -> np.ndarray:
    return (AMPLITUDES[:, None] * np.exp(np.outer(RATES, times))).real.sum(axis=0)


@pytest.mark.parametrize("count", [1, 255, 256, 257, 20_000])
def test_it_is_the_sum_of_the_partials(count: int) -> None:
    """Every sample, within what 32 bits can say and what is left out."""
    sound = partials(AMPLITUDES, RATES, count)
    assert sound.shape == (count,)
    assert np.abs(sound - summed(np.arange(count))).max() < 5e-4


def test_what_has_died_away_is_left_out() -> None:
    """Nothing remains of a sound below the floor."""
    assert not partials(AMPLITUDES * 1e-7, RATES, 300).any()
    assert partials(AMPLITUDES * 1e-4, RATES, 300).any()
    assert partials(AMPLITUDES[:0], RATES[:0], 300).shape == (300,)


def test_a_pitch_that_does_not_glide_is_the_same_sum() -> None:
    """At the pitch of the rates both ways agree."""
    sound = gliding(AMPLITUDES, RATES, np.arange(5000.0))
    assert np.abs(sound - summed(np.arange(5000))).max() < 5e-4
