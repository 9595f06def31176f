"""The partials of a string: where they lie, how they die away, and how a finger sets them going."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from fretloom.formats.sound.guitar.chance import Floats
from fretloom.formats.sound.guitar.constants import RATE, table, value
from fretloom.formats.sound.guitar.string.making import StringMake
from fretloom.formats.sound.guitar.string.waves import Complexes
from fretloom.values import evolve, frozen

#: Nepers by which something has fallen when it is 60 dB down.
SIXTY = 3 * math.log(10)


@frozen
class StringStop:
    """Where a string is stopped.

    Args:
        length: of what vibrates, m. pitch: of its first partial, Hz. stopped: by a finger or a capo.
    """

    length: float
    pitch: float
    stopped: bool


@frozen
class PluckShape:
    """How a finger plucks.

    Args:
        place: how far from the bridge, m. width: of what touches the string, m.
        time: in which it leaves the string, s. force: 1 for a usual thumb.
    """

    place: float
    width: float
    time: float
    force: float


@frozen(eq=False)
class Modes:
    """A string that vibrates.

    Args:
        numbers: of its partials, from 1; first those across the top, then those along it.
        along: which of them move along the top, where they pass on less and last longer.
        amplitudes: at an instant. rates: exponents per sample.
        stop: where it is stopped.
    """

    numbers: Floats
    along: np.ndarray[tuple[int], np.dtype[np.bool_]]
    amplitudes: Complexes
    rates: Complexes
    stop: StringStop

    def after(self, samples: float) -> Modes:
        """Return it some samples later; a part of one counts."""
        return evolve(self, amplitudes=self.amplitudes * np.exp(self.rates * samples))

    def damped(self, seconds: float) -> Modes:
        """Return it touched, so that it is 60 dB down after so long, and its high partials sooner."""
        hertz = self.rates.imag * RATE / (2 * np.pi)
        more = SIXTY / seconds * (1 + hertz / value("damping", "bend")) / RATE
        return evolve(self, rates=self.rates - more)


@lru_cache(maxsize=512)
def at_rest(make: StringMake, stop: StringStop, body: str, size: float) -> Modes:
    """Return a string that does not sound yet."""
    one = table("strings")
    below = min(one["highest"], 0.45 * RATE)
    count = int(below / stop.pitch)
    numbers = np.arange(1.0, count + 1)
    wave = numbers * np.pi / stop.length
    tension = make.weight * (2 * stop.length * stop.pitch) ** 2
    stiff = make.stiffness / tension
    bending = stiff * (np.pi / stop.length) ** 2
    hertz = stop.pitch * numbers * np.sqrt((1 + bending * numbers**2) / (1 + bending))
    decay = decays(make, stop, numbers, hertz) + _into_body(hertz, body, size)
    fits = hertz < below
    numbers, wave, hertz, decay = numbers[fits], wave[fits], hertz[fits], decay[fits]
    few = slice(0, int(one["horizontal_modes"]))
    apart = 2.0 ** (one["apart_cents"] / 2400)
    rates: Complexes = np.concatenate(
        (
            -decay * one["vertical_decay"] + 2j * np.pi * hertz / apart,
            -decay[few] * one["horizontal_decay"] + 2j * np.pi * hertz[few] * apart,
        )
    )
    both = np.concatenate((numbers, numbers[few]))
    along = np.arange(len(both)) >= len(numbers)
    rates = rates / RATE
    return Modes(both, along, np.zeros(len(both), np.complex128), rates, stop)


def decays(make: StringMake, stop: StringStop, numbers: Floats, hertz: Floats) -> Floats:
    """Return how fast partials of a string fall, in nepers a second: losses inside, in the air, in bending."""
    inside, air, bent = make.decay
    omega = 2 * np.pi * hertz
    tension = make.weight * (2 * stop.length * stop.pitch) ** 2
    bending = make.stiffness * (numbers * np.pi / stop.length) ** 2
    loss: Floats = omega / 2 * (tension * (inside + air / omega) + bending * bent)
    loss = loss / (tension + bending)
    return loss * (value("strings", "stopped_decay") if stop.stopped else 1.0)


def _into_body(hertz: Floats, body: str, size: float) -> Floats:
    """Return what the lowest modes of the body take from partials near them, in nepers a second."""
    lost = np.zeros(len(hertz))
    for low, quality, gain in table("bodies")[body]["modes"][:3]:
        away = 2 * quality * (hertz - low * size) / (low * size)
        lost += value("strings", "body_loss") * gain / (1 + away**2)
    return lost


def plucked(rest: Modes, pluck: PluckShape, *, every: int = 1) -> Modes:
    """Return a string that a finger has let go; of a harmonic only partials with a multiple of `every` sound."""
    length = rest.stop.length
    place = min(pluck.place, 0.45 * length)
    wave = rest.numbers * np.pi / length
    amplitudes = pluck.force * 2 / (np.pi * rest.numbers) * np.sin(wave * place)
    amplitudes /= np.pi * (1 - place / length)
    soft = (wave * pluck.width) ** 2 + (rest.rates.imag * RATE * pluck.time) ** 2
    amplitudes *= np.exp(-soft / 2) * _directions(rest)
    rates = rest.rates
    if every > 1:
        amplitudes *= rest.numbers % every == 0
        rates = rates + rates.real * (value("strings", "harmonic_decay") - 1)
    return evolve(rest, amplitudes=amplitudes.astype(np.complex128), rates=rates)


def _directions(modes: Modes) -> Floats:
    one = table("strings")
    shares: Floats = np.where(modes.along, one["horizontal"], one["vertical"])
    return shares


def with_kick(modes: Modes, kick: Floats, soft: Floats) -> Modes:
    """Return a string that gets more by a finger that lands or leaves; both are for each partial."""
    more = kick * np.exp(-(soft**2) / 2) * _directions(modes)
    return evolve(modes, amplitudes=modes.amplitudes + more)
