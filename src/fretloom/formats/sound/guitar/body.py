"""The body of the guitar and the room around it, as one filter for each ear."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import Any, TypeAlias

import numpy as np
import numpy.typing as npt

from fretloom.formats.sound.guitar.chance import Floats, chances
from fretloom.formats.sound.guitar.constants import RATE, table
from fretloom.formats.sound.guitar.string.waves import Samples

Spectra: TypeAlias = npt.NDArray[np.complex64]
#: Samples that go through the filters at a time; what they ring on fits into one transform with them.
TRANSFORM = 65536
#: How long body and room ring on together.
RINGS = 22_528
CHUNK = TRANSFORM - RINGS


def through(chunks: Iterable[Samples], body: str, size: float) -> Iterator[Samples]:
    """Yield what two ears hear of a guitar, chunk by chunk, from what its strings push.

    Chunks have two rows of `CHUNK` samples. What rings on goes into the chunks after it; at the end it is cut.
    """
    straight, far = _filters(body, size)
    rest: Samples = np.zeros((2, RINGS), np.float32)
    for chunk in chunks:
        spectra = np.fft.rfft(chunk, TRANSFORM, axis=1)
        middle = (spectra[0] + spectra[1]) * np.float32(0.5)
        back = np.fft.irfft(spectra * straight + middle * far, TRANSFORM, axis=1)
        heard: Samples = back.astype(np.float32, copy=False)
        heard[:, :RINGS] += rest
        rest = heard[:, CHUNK:].copy()
        yield heard[:, :CHUNK]


@lru_cache(maxsize=8)
def _filters(body: str, size: float) -> tuple[Spectra, Spectra]:
    """Return the spectra of the body for each ear, and of the room that answers it."""
    both = np.stack([body_response(body, size, ear) for ear in (0, 1)])
    straight = np.fft.rfft(both, TRANSFORM, axis=1)
    rooms = np.stack([_room(table("room"), ear) for ear in (0, 1)])
    far = np.fft.rfft(rooms, TRANSFORM, axis=1) * straight.mean(axis=0)
    return straight.astype(np.complex64), far.astype(np.complex64)


def body_response(body: str, size: float, ear: int) -> Floats:
    """Return what a body answers to one push, as one ear (0 or 1) hears it: its modes, and the push itself."""
    one, room = table("bodies")[body], table("room")
    count = int(room["time"] * RATE)
    time = np.arange(count) / RATE
    made = np.zeros(count)
    for hertz, quality, gain in _modes(one, size):
        # So that its answer at its own frequency is the gain.
        peak = gain[ear] * 2 * np.pi * hertz / quality / RATE
        fall = np.exp(-np.pi * hertz * time / quality)
        made += peak * fall * np.sin(2 * np.pi * hertz * time + 0.4)
    made *= np.clip((count - np.arange(count)) / (0.02 * RATE), 0, 1)
    # The push itself, its highs raised, for they are radiated better.
    made[0] += one["direct"] * (1 + one["bright"])
    made[1] -= one["direct"] * one["bright"]
    return made


def _modes(one: Any, size: float) -> Iterator[tuple[float, float, tuple[float, float]]]:
    """Yield the modes of a body: frequency, quality, and how loud each ear hears it."""
    for hertz, quality, gain in one["modes"]:
        yield hertz * size, quality, (gain, gain)
    hertz = one["modes"][-1][0] * size * one["step"]
    least, most = one["gain"]
    width, drawn = table("room")["width"], chances(one["seed"], 1000)
    place = 0
    while hertz < one["highest"]:
        sign, loud, left = drawn[place : place + 3]
        gain = (least + (most - least) * (loud + 1) / 2) * (1 if sign > 0 else -1)
        gain *= (hertz / one["dull_from"]) ** -one["dull"] if hertz > one["dull_from"] else 1.0
        yield hertz, one["quality"], (gain * (1 + width * left), gain * (1 - width * left))
        hertz *= one["step"]
        place += 3


def _room(one: Any, ear: int) -> Floats:
    """Return the answer of a small room: noise that dies away and has lost its highs, another for each ear."""
    count = int(one["length"] * RATE)
    noise = chances(one["seed"] + ear, count)
    dull = np.empty(count)
    dark, before = float(one["dark"]), 0.0
    for place, new in enumerate(noise.tolist()):
        before = dark * before + (1 - dark) * new
        dull[place] = before
    time = np.arange(count) / RATE
    made = dull * np.exp(-time * 6.9 / one["decay"]) * one["level"]
    made *= np.clip((count - np.arange(count)) / (0.05 * RATE), 0, 1)
    late = np.zeros(int(one["late"] * RATE))
    found: Floats = np.concatenate((late, made))
    return found
