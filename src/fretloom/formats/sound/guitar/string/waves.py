"""Sums of decaying partials, as products of matrices.

A partial is the real part of A exp(lambda n), n in samples. With n = 256 k + j the sum over all partials is one product
of a matrix of powers of k with one of powers of j, which any BLAS does fast; both are made by doubling.
"""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from fretloom.formats.sound.guitar.chance import Floats

Complexes: TypeAlias = npt.NDArray[np.complex128]
Samples: TypeAlias = npt.NDArray[np.float32]

BLOCK = 256
#: Partials below this are left out.
FLOOR = 1e-5
#: More multiplications in one call would be shared out among threads, which costs more than it brings for
#: matrices as flat as these.
_MOST = 260_000


def partials(amplitudes: Complexes, rates: Complexes, count: int) -> Samples:
    """Return `count` samples of a sum of partials: amplitudes at sample 0, and lambda, the rates per sample.

    Every few blocks those that have died away are left out.
    """
    out = np.zeros(-(-count // BLOCK) * BLOCK, np.float32)
    inner: Samples | None = None
    done, span = 0, 4 * BLOCK
    while done < count:
        keep = np.abs(amplitudes) > FLOOR
        if not keep.all():
            amplitudes, rates = amplitudes[keep], rates[keep]
            inner = None if inner is None else np.ascontiguousarray(inner[np.tile(keep, 2)])
        if not len(rates):
            break
        if inner is None:
            inner = _inner(rates)
        length = min(span, len(out) - done)
        outer = _powers(rates * BLOCK, length // BLOCK) * amplitudes
        _product(outer, inner, out[done : done + length].reshape(-1, BLOCK))
        amplitudes = amplitudes * np.exp(rates * length)
        done, span = done + length, span * 2
    return out[:count]


def _powers(rates: Complexes, count: int) -> Complexes:
    """Return exp(rate k), a row for each k from 0 to `count` - 1."""
    made = np.empty((count, len(rates)), np.complex128)
    made[0] = 1
    have = 1
    while have < count:
        more = min(have, count - have)
        np.multiply(made[:more], np.exp(rates * have), out=made[have : have + more])
        have += more
    return made


def _inner(rates: Complexes) -> Samples:
    """Return the powers within a block: real parts above, imaginary parts with their sign turned below."""
    modes = len(rates)
    powers = _powers(rates, BLOCK)
    made = np.empty((2 * modes, BLOCK), np.float32)
    made[:modes] = powers.real.T
    made[modes:] = -powers.imag.T
    return made


def _product(outer: Complexes, inner: Samples, out: Samples) -> None:
    both = np.concatenate((outer.real, outer.imag), axis=1, dtype=np.float32, casting="same_kind")
    rows = max(1, _MOST // inner.size)
    for start in range(0, len(both), rows):
        np.matmul(both[start : start + rows], inner, out=out[start : start + rows])


def gliding(amplitudes: Complexes, rates: Complexes, turned: Floats) -> Samples:
    """Return a sum of partials whose frequencies move together.

    `turned` is for each sample how many samples would have gone by at the pitch of the rates; decay goes on evenly.
    """
    out = np.zeros(len(turned), np.float32)
    for start in range(0, len(turned), 2048):
        now = amplitudes * np.exp(rates.real * start)
        keep = np.abs(now) > FLOOR
        if not keep.any():
            break
        some = turned[start : start + 2048]
        phase = np.outer(rates.imag[keep] / (2 * np.pi), some)
        phase += (np.angle(now[keep]) / (2 * np.pi))[:, None]
        phase -= np.floor(phase)
        wave = np.cos((phase * (2 * np.pi)).astype(np.float32))
        fall = np.exp(np.outer(rates.real[keep], np.arange(len(some)))).astype(np.float32)
        wave *= fall
        out[start : start + 2048] = np.abs(now[keep]).astype(np.float32) @ wave
    return out
