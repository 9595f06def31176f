"""Finds the plucks in a sound: where what is above 2 kHz has risen to a fifth of its rise.

A steepest rise would find damping and the body's answer as well.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

RATE = 44100
Sound = npt.NDArray[np.floating]


def envelope(sound: Sound) -> Sound:
    """Return the energy above 2 kHz, smoothed over a millisecond, each 1/8 ms or so."""
    some = sound.mean(axis=0)
    spectrum = np.fft.rfft(some)
    hertz = np.fft.rfftfreq(len(some), 1 / RATE)
    spectrum *= np.clip((hertz - 1500) / 1000, 0, 1)
    high = np.fft.irfft(spectrum, len(some)) ** 2
    window = np.hanning(45)
    return np.sqrt(np.maximum(np.convolve(high, window / window.sum(), "same"), 0))


def rise_near(found: Sound, at: float) -> float | None:
    """Return when a sound rises near a time, in seconds; None if nothing rises there over what sounds already.

    A low string gives a pulse every hundredth of a second: what came before is as loud as the loudest of them.
    """
    place = int(at * RATE)
    first = max(0, place - int(0.005 * RATE))
    some = found[first : place + int(0.008 * RATE)]
    before = float(found[max(0, place - int(0.017 * RATE)) : first + 1].max())
    peak = int(np.argmax(some))
    rise = float(some[peak]) - before
    if rise < 0.2 * before:
        return None
    above = np.flatnonzero(some[: peak + 1] > before + 0.2 * rise)
    return (first + int(above[0])) / RATE
