"""What has no pitch: the touch of a finger, squeaks, slaps, and clicks to keep time by."""

from __future__ import annotations

import math

import numpy as np

from fretloom.formats.sound.guitar.chance import Floats, chances, seed_of
from fretloom.formats.sound.guitar.constants import RATE, table, value
from fretloom.formats.sound.guitar.string.making import StringMake
from fretloom.formats.sound.guitar.string.waves import Samples


def touch(seed: int, force: float) -> Samples:
    """Return the noise of skin and nail that leave a string."""
    count = int(value("noises", "touch_time") * RATE)
    noise = np.diff(chances(seed_of(seed, 1), count + 1))
    fall = np.exp(-np.arange(count) / count * 4) * _window(count)
    made: Samples = (noise * fall * (value("noises", "touch") * force)).astype(np.float32)
    return made


def squeak(string: StringMake, count: int, seed: int, force: float) -> Samples:
    """Return the noise of a finger that slides along a string, as `count` samples; wound ones have most."""
    wound = string.weight > 1.5e-3
    noise = np.diff(chances(seed_of(seed, 2), count + 2), 2)
    level = value("slurs", "squeak") * force * (1.0 if wound else 0.2)
    return (noise * np.hanning(count + 2)[1:-1] * level).astype(np.float32)


def slap(place: str, seed: int, loud: float) -> Samples:
    """Return a slap on the strings or the body, as it pushes the top; `loud` is 1 for a usual one."""
    strings = place == "strings"
    count = int(0.12 * RATE)
    time = np.arange(count) / RATE
    long = 0.0025 if strings else 0.006
    push = np.where(time < long, np.sin(np.pi * time / long) ** 2, 0)
    noise = chances(seed_of(seed, 3), count)
    if strings:
        rattle = np.diff(noise, prepend=0) * 0.5 * np.exp(-time / 0.012) * _window(count)
    else:
        smooth = np.convolve(noise, np.ones(24) / 24, "same")
        rattle = smooth * 1.2 * np.exp(-time / 0.018) * _window(count)
    level = value("noises", "slap_strings" if strings else "slap_body") * loud
    return ((push * 0.35 + rattle * 0.5) * level * 0.25).astype(np.float32)


def _window(count: int) -> Floats:
    """Return what lets a noise begin within half a millisecond and end at nothing."""
    rise = np.clip(np.arange(count) / (0.0005 * RATE), 0, 1)
    fall = np.clip(np.arange(count)[::-1] / (0.001 * RATE), 0, 1)
    window: Floats = rise * fall
    return window


def click(strength: int, late: float) -> Samples:
    """Return one click: 0 the first of a bar, 1 of a group, 2 any other; `late` is a part of a sample."""
    one = table("clicks")
    hertz = one[("first", "group", "other")[strength]]
    time = (np.arange(int(one["time"] * RATE * 1.5)) - late) / RATE
    time = np.maximum(time, 0)
    fall = np.exp(-time * 3 * math.log(10) / one["time"])
    wave = np.sin(2 * np.pi * hertz * time) * fall
    wave += one["partial_gain"] * np.sin(2 * np.pi * hertz * one["partial"] * time) * fall**2
    made: Samples = (wave * one["level"] * _window(len(time))).astype(np.float32)
    return made
