"""What becomes of a string that sounds when the fretting hand moves: hammer-on, pull-off, slide, bend, vibrato."""

from __future__ import annotations

import numpy as np

from fretloom.formats.sound.guitar.chance import Floats
from fretloom.formats.sound.guitar.constants import RATE, value
from fretloom.formats.sound.guitar.string.modes import Modes, with_kick
from fretloom.formats.sound.guitar.string.waves import Complexes
from fretloom.values import evolve


def hammered(before: Modes, rest: Modes, force: float) -> Modes:
    """Return the shorter string that is left when a finger lands: what it holds of the shape and the speed.

    The finger presses the string down, which gives it a little more.
    """
    made = _carried(before, rest)
    numbers, length = rest.numbers, rest.stop.length
    kick = force * value("slurs", "press") * 2 / length * -((-1.0) ** numbers)
    return with_kick(made, kick, rest.rates.imag * RATE * value("slurs", "press_time"))


def pulled(before: Modes, rest: Modes, force: float) -> Modes:
    """Return the longer string when a finger has left, and plucked it a little where it was."""
    made = _carried(before, rest)
    numbers, length, old = rest.numbers, rest.stop.length, before.stop.length
    away = max(length - old, 0.01)
    height = force * value("slurs", "leave") * length / (old * away)
    kick = height * 2 / (np.pi * numbers) * np.sin(numbers * np.pi * old / length)
    return with_kick(made, kick, numbers * np.pi / length * value("slurs", "leave_width"))


def _carried(before: Modes, rest: Modes) -> Modes:
    """Return the shape and the speed of a string as partials of a string of another length."""
    amplitudes = np.zeros(len(rest.numbers), np.complex128)
    for along in (False, True):
        old, new = before.along == along, rest.along == along
        amplitudes[new] = _projected(before, rest, old, new)
    return evolve(rest, amplitudes=amplitudes)


def _projected(
    before: Modes,
    rest: Modes,
    old: np.ndarray[tuple[int], np.dtype[np.bool_]],
    new: np.ndarray[tuple[int], np.dtype[np.bool_]],
) -> Complexes:
    """Return amplitudes at the bridge of the new partials; the integrals have a closed form.

    At the bridge a partial pushes with its displacement times its wave number. What the new fret has between
    itself and the bridge is kept, less a straight line, since the string stands still there.
    """
    length, shorter = rest.stop.length, min(before.stop.length, rest.stop.length)
    waves = before.numbers[old] * np.pi / before.stop.length
    news = rest.numbers[new] * np.pi / length
    shape: Floats = before.amplitudes[old].real / waves
    speed = -before.rates.imag[old] * before.amplitudes[old].imag / waves
    integral = _overlap(waves[None, :], news[:, None], shorter)
    both = np.stack((shape, speed), axis=1)
    found: Floats = (2 / length) * (integral @ both)
    if length < before.stop.length:
        ramp = np.sin(waves * length) @ both
        signs = -((-1.0) ** rest.numbers[new]) * 2 / (rest.numbers[new] * np.pi)
        found -= signs[:, None] * ramp
    return _complex(news * found[:, 0], -news * found[:, 1] / rest.rates.imag[new])


def _complex(real: Floats, imaginary: Floats) -> Complexes:
    made = np.empty(len(real), np.complex128)
    made.real, made.imag = real, imaginary
    return made


def _overlap(one: Floats, other: Floats, length: float) -> Floats:
    """Return the integral of sin(one x) sin(other x) from 0 to `length`."""
    apart, together = one - other, one + other
    near = np.abs(apart) * length < 1e-6
    safe = np.where(near, 1.0, apart)
    first = np.where(near, length, np.sin(safe * length) / safe)
    found: Floats = (first - np.sin(together * length) / together) / 2
    return found


def way(start: float, end: float, moving: int, after: int) -> Floats:
    """Return the pitch, relative to the start's, on the way from one to another: it leaves and arrives softly."""
    ease = (1 - np.cos(np.pi * (np.arange(moving) + 0.5) / max(1, moving))) / 2
    path: Floats = np.concatenate((np.exp(ease * np.log(end / start)), np.full(after, end / start)))
    return path


def vibrato(count: int) -> Floats:
    """Return the pitch under vibrato, relative to that without: around it, growing from nothing."""
    time = np.arange(count) / RATE
    grown = np.clip(time / value("slurs", "vibrato_grows"), 0, 1)
    swing = value("slurs", "vibrato_cents") / 1200 * np.log(2)
    wave: Floats = np.exp(swing * grown * np.sin(2 * np.pi * value("slurs", "vibrato_rate") * time))
    return wave


def turned_by(path: Floats) -> Floats:
    """Return, for a pitch at each sample, how far the string has turned there in samples at the pitch 1."""
    turned: Floats = np.concatenate(([0.0], np.cumsum(path)[:-1]))
    return turned
