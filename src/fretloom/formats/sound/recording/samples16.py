"""Samples as whole numbers of 16 bits."""

from __future__ import annotations

import numpy as np

from fretloom.formats.sound.guitar.string.waves import Samples


def sixteen_bits(chunk: Samples) -> bytes:
    """Return two rows of samples as interleaved little-endian numbers of 16 bits."""
    whole = np.rint(np.clip(chunk, -1.0, 1.0) * np.float32(32767))
    return bytes(whole.T.astype("<i2").tobytes())
