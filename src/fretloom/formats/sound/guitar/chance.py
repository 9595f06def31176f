"""Numbers that look like chance and are the same everywhere: each note has a seed of its own.

Both are short, so that another language makes the same numbers: seeds are FNV-1a hashes of whole numbers (Fowler,
Noll and Vo, 1991), the numbers come from the linear congruential generator of "Numerical Recipes" (Press and others).
"""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
import numpy.typing as npt

Floats: TypeAlias = npt.NDArray[np.float64]
_FACTOR, _STEP, _ALL = 1664525, 1013904223, 0xFFFFFFFF


def seed_of(*parts: int) -> int:
    """Return a seed, 0 to 2**32 - 1, for whole numbers that name something."""
    found = 2166136261
    for part in parts:
        found = ((found ^ (part & _ALL)) * 16777619) & _ALL
    return found ^ (found >> 15)


def chances(seed: int, count: int) -> Floats:
    """Return numbers from -1 to 1."""
    made = np.empty(count, np.uint32)
    made[:1] = (seed * _FACTOR + _STEP) & _ALL
    have, factor, step = 1, _FACTOR, _STEP
    while have < count:
        more = min(have, count - have)
        made[have : have + more] = made[:more] * np.uint32(factor) + np.uint32(step)
        factor, step = factor * factor & _ALL, step * (factor + 1) & _ALL
        have += more
    return made.astype(np.float64) / 2147483648.0 - 1.0
