"""How loud a sound is, as ITU-R BS.1770-4 measures it, while it goes by."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from fretloom.formats.sound.guitar.body import CHUNK, RINGS, TRANSFORM
from fretloom.formats.sound.guitar.constants import RATE
from fretloom.formats.sound.guitar.string.waves import Samples

#: The steps of gating: blocks of 400 ms that begin every 100 ms.
_STEP, _STEPS = RATE // 10, 4
_ABSOLUTE_GATE, _RELATIVE_GATE, _OFFSET = -70.0, -10.0, -0.691


class LoudnessMeter:
    """Takes a stereo sound chunk by chunk and says how loud all of it was."""

    def __init__(self) -> None:
        self._rest: Samples = np.zeros((2, RINGS), np.float32)
        self._open: Samples = np.zeros((2, 0), np.float32)
        self._steps: list[npt.NDArray[np.float64]] = []

    def take(self, chunk: Samples) -> None:
        """Measure a chunk: two rows, of `CHUNK` samples at most; only the last one may be shorter."""
        length = chunk.shape[1]
        spectra = np.fft.rfft(chunk, TRANSFORM, axis=1) * _weights()
        heard: Samples = np.fft.irfft(spectra, TRANSFORM, axis=1).astype(np.float32, copy=False)
        heard[:, :RINGS] += self._rest
        self._rest = heard[:, CHUNK:]
        both = np.concatenate((self._open, heard[:, :length]), axis=1)
        whole = both.shape[1] // _STEP
        steps = both[:, : whole * _STEP].reshape(2, whole, _STEP)
        self._steps.append(np.einsum("cst,cst->s", steps, steps, dtype=np.float64) / _STEP)
        self._open = both[:, whole * _STEP :]

    def loudness(self) -> float:
        """Return the integrated loudness in LUFS; minus infinity for silence."""
        steps = np.concatenate(self._steps) if self._steps else np.zeros(0)
        if len(steps) < _STEPS:
            # Less than one block: what there is, as if it went on.
            left = float((self._open.astype(np.float64) ** 2).sum())
            total = float(steps.sum()) * _STEP + left
            count = len(steps) * _STEP + self._open.shape[1]
            return _lufs(total / count) if count else -math.inf
        blocks = np.convolve(steps, np.ones(_STEPS) / _STEPS, "valid")
        loud = blocks[blocks > _power(_ABSOLUTE_GATE)]
        if not len(loud):
            return -math.inf
        gate = _power(_lufs(float(loud.mean())) + _RELATIVE_GATE)
        return _lufs(float(loud[loud > gate].mean()))


def _lufs(power: float) -> float:
    return _OFFSET + 10 * math.log10(power) if power > 0 else -math.inf


def _power(lufs: float) -> float:
    return float(10 ** ((lufs - _OFFSET) / 10))


@lru_cache(maxsize=1)
def _weights() -> npt.NDArray[np.complex64]:
    """Return the K-weighting of the recommendation at the frequencies of a transform.

    Its two filters are tabled for 48 kHz; for other rates they are made from the analogue filters behind that table
    (De Man, "Evaluation of Implementations of the EBU R128 Loudness Measurement", AES 2018).
    """
    turn = np.exp(-2j * np.pi * np.arange(TRANSFORM // 2 + 1) / TRANSFORM)
    made = np.ones(len(turn), np.complex128)
    for above, below in (_shelf(), _high_pass()):
        made *= np.polyval(above[::-1], turn) / np.polyval(below[::-1], turn)
    return made.astype(np.complex64)


def _shelf() -> tuple[list[float], list[float]]:
    gain, quality, hertz = 3.999843853973347, 0.7071752369554196, 1681.974450955533
    k = math.tan(math.pi * hertz / RATE)
    high = 10 ** (gain / 20)
    middle = high**0.4996667741545416
    below = 1 + k / quality + k * k
    top = [
        (high + middle * k / quality + k * k) / below,
        2 * (k * k - high) / below,
        (high - middle * k / quality + k * k) / below,
    ]
    return top, [1.0, 2 * (k * k - 1) / below, (1 - k / quality + k * k) / below]


def _high_pass() -> tuple[list[float], list[float]]:
    quality, hertz = 0.5003270373238773, 38.13547087602444
    k = math.tan(math.pi * hertz / RATE)
    below = 1 + k / quality + k * k
    return [1.0, -2.0, 1.0], [1.0, 2 * (k * k - 1) / below, (1 - k / quality + k * k) / below]
