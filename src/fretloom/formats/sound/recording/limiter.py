"""Keeps peaks below a ceiling, looking ahead, so that nothing clips and nothing is heard of it.

Peaks are true peaks: those between samples count (ITU-R BS.1770-4, annex 2: four times as many samples).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache

import numpy as np

from fretloom.formats.sound.guitar.chance import Floats
from fretloom.formats.sound.guitar.string.waves import Samples

#: -1.3 dB, for true peaks of -1 dB. A cell is a millisecond; the gain bends over 11 of them.
CEILING = 10 ** (-1.3 / 20)
CELL, _AROUND = 44, 5
#: Cells before and behind one that have a say in its gain: those of the bend, and one for the line to the next.
AHEAD = 2 * _AROUND + 2
#: Samples that are lower have no peak beside them that is too high.
_SAFE = 0.65 * CEILING
_TAPS = 16


def limited(chunks: Iterable[Samples]) -> Iterator[Samples]:
    """Yield a sound of two rows with its peaks held down, in chunks of other sizes, as long as it came."""
    margin = AHEAD * CELL
    held = np.zeros((2, margin), np.float32)
    for chunk in chunks:
        held = np.concatenate((held, chunk), axis=1)
        ready = held.shape[1] // CELL - 2 * AHEAD
        if ready > 0:
            yield _held_down(held, ready)
            held = held[:, ready * CELL :]
    length = held.shape[1] - margin
    if length:
        rest = -held.shape[1] % CELL
        held = np.pad(held, ((0, 0), (0, rest + margin)))
        yield _held_down(held, held.shape[1] // CELL - 2 * AHEAD)[:, :length]


def _held_down(sound: Samples, cells: int) -> Samples:
    """Return some cells of a sound, from cell `AHEAD` on, at the gain that its peaks allow."""
    out = sound[:, AHEAD * CELL : (AHEAD + cells) * CELL]
    peaks = cell_peaks(sound[:, : (cells + 2 * AHEAD) * CELL])
    if float(peaks.max()) <= CEILING:
        return out
    gains = np.minimum(1.0, CEILING / np.maximum(peaks, CEILING))
    low = np.lib.stride_tricks.sliding_window_view(gains, 2 * _AROUND + 3).min(axis=1)
    bend = np.hanning(2 * _AROUND + 3)[1:-1]
    smooth = np.convolve(low, bend / bend.sum(), "valid")
    # `smooth` begins with the gain of cell 2 _AROUND + 1, the one before the first of `out`.
    middles = (np.arange(len(smooth)) - 1 + 0.5) * CELL
    curve = np.interp(np.arange(cells * CELL) + 0.5, middles, smooth).astype(np.float32)
    held_down: Samples = out * curve
    return held_down


def cell_peaks(sound: Samples) -> Floats:
    """Return the true peak of each cell; `sound` has a whole number of cells."""
    cells = sound.shape[1] // CELL
    largest = np.abs(sound).reshape(2, cells, CELL).max(axis=2).max(axis=0)
    peaks: Floats = largest.astype(np.float64)
    high = np.flatnonzero(peaks > _SAFE)
    if len(high):
        padded = np.pad(sound, ((0, 0), (_TAPS // 2, _TAPS // 2)))
        spans = np.lib.stride_tricks.sliding_window_view(padded, CELL + _TAPS, axis=1)
        some = spans[:, high * CELL]
        near = np.lib.stride_tricks.sliding_window_view(some, _TAPS, axis=2)
        between = np.abs(near @ _between()).max(axis=(0, 2, 3))
        peaks[high] = np.maximum(peaks[high], between)
    return peaks


@lru_cache(maxsize=1)
def _between() -> Samples:
    """Return filters that give what lies a quarter, a half and three quarters of a sample on."""
    places = np.arange(_TAPS)[:, None] - (_TAPS / 2 - 1) - np.array([0.25, 0.5, 0.75])[None, :]
    window = np.cos(np.pi * places / (_TAPS + 1)) ** 2
    made = np.sinc(places) * window
    filters: Samples = (made / made.sum(axis=0)).astype(np.float32)
    return filters
