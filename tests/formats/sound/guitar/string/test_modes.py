"""Partials lie and die away as `docs/reference/sound.md` states, by formulas written here once more."""

from __future__ import annotations

import math

import numpy as np
import pytest
from heard import RATE, cents_off, partial_level, playback_of

from fretloom.formats.sound.guitar.string.making import making_of
from fretloom.formats.sound.guitar.string.modes import (
    Modes,
    PluckShape,
    StringStop,
    at_rest,
    plucked,
)
from fretloom.formats.sound.guitar.string.waves import partials

#: E2, D3 and E4 of a steel-string guitar: gauge or core in m, weight in kg/m; E2 and D3 wound.
#: Weights: from memory, of a light set (0.012 to 0.053 inches).
LIGHT_SET = {6: 1.04e-2, 4: 3.7e-3, 1: 5.73e-4}


def one_direction(string: int) -> tuple[Modes, float]:
    """Return an open string that was plucked and moves across the top only, and the frequency of its first partial."""
    _, settings = playback_of("O")
    making = making_of(settings)
    midi = settings.tuning.open_pitch(string).midi
    hertz = 440 * 2 ** ((midi - 69) / 12)
    make = making.strings[string, False]
    rest = at_rest(make, StringStop(make.length, hertz, False), "board", 0.001)
    # In cents it is 0.1 low, and the partials along the top as much too high.
    return plucked(rest, PluckShape(0.1, 0.001, 0.0, 1.0)), hertz * 2 ** (-0.1 / 1200)


@pytest.mark.parametrize("string", [6, 4, 1])
def test_a_string_is_as_heavy_as_it_is_sold(string: int) -> None:
    """What is reckoned from a usual tension comes to the weights of a light set."""
    _, settings = playback_of("O")
    weight = making_of(settings).strings[string, False].weight
    assert weight == pytest.approx(LIGHT_SET[string], rel=0.12)


@pytest.mark.parametrize("string", [6, 4, 1])
def test_partials_die_away_by_the_formula(string: int) -> None:
    """The first eight within 5 %: losses inside the string, in the air, in bending."""
    modes, hertz = one_direction(string)
    sound = partials(modes.amplitudes * ~modes.along, modes.rates, 2 * RATE)
    _, settings = playback_of("O")
    make = making_of(settings).strings[string, False]
    inside, air, bent = make.decay
    tension = make.weight * (2 * make.length * hertz) ** 2
    for number in range(1, 9):
        bending = make.stiffness * (number * math.pi / make.length) ** 2
        omega = 2 * math.pi * number * hertz * math.sqrt(1 + bending / tension)
        sigma = 1.25 * omega / 2 * (tension * (inside + air / omega) + bending * bent)
        sigma /= tension + bending
        there = omega / 2 / math.pi
        fall = partial_level(sound, there, 0.1, 0.4) - partial_level(sound, there, 0.5, 0.8)
        assert fall == pytest.approx(0.4 * sigma * 20 / math.log(10), rel=0.05), number


@pytest.mark.parametrize("string", [6, 4, 1])
def test_stiffness_spreads_the_partials(string: int) -> None:
    """f_m = m f_1 sqrt((1 + B m^2) / (1 + B)): Fletcher, "Normal vibration frequencies of a stiff piano string", 1964."""
    modes, hertz = one_direction(string)
    sound = partials(modes.amplitudes * ~modes.along, modes.rates, RATE)
    _, settings = playback_of("O")
    make = making_of(settings).strings[string, False]
    tension = make.weight * (2 * make.length * hertz) ** 2
    stiff = math.pi**2 * make.stiffness / (tension * make.length**2)
    for number in (1, 4, 8):
        there = number * hertz * math.sqrt((1 + stiff * number**2) / (1 + stiff))
        assert abs(cents_off(sound, there, 0.0)) < 0.1
    sharp = 1200 * math.log2(math.sqrt((1 + 64 * stiff) / (1 + stiff)))
    assert 0.05 < sharp < 15


def test_a_pluck_in_the_middle_has_no_even_partials() -> None:
    """A partial that has a node under the finger does not sound (the textbook's plucked string)."""
    _, settings = playback_of("O")
    make = making_of(settings).strings[1, False]
    rest = at_rest(make, StringStop(0.2, 1000.0, True), "wood", 1.0)
    third = plucked(rest, PluckShape(0.2 / 3, 0.0005, 0.0, 1.0))
    assert np.abs(third.amplitudes[[2, 5, 8]]).max() < 1e-12 * np.abs(third.amplitudes[0])


def test_a_wide_finger_sounds_duller() -> None:
    """The fourth partial against the first: a contact of 10 mm takes it off by exp(-(k w)^2 / 2)."""
    _, settings = playback_of("O")
    make = making_of(settings).strings[1, False]
    rest = at_rest(make, StringStop(make.length, 329.6, False), "wood", 1.0)
    narrow, wide = (
        plucked(rest, PluckShape(0.1, 0.001, 0.0, 1.0)),
        plucked(rest, PluckShape(0.1, 0.01, 0.0, 1.0)),
    )
    shares = np.abs(wide.amplitudes / narrow.amplitudes)
    wave = math.pi / make.length
    assert shares[3] == pytest.approx(math.exp(-((4 * wave) ** 2) * (0.01**2 - 0.001**2) / 2))


@pytest.mark.parametrize("hertz", [12543.9, 25000.0])
def test_a_pitch_that_nobody_hears_is_silence_or_one_partial(hertz: float) -> None:
    """MIDI numbers up to 127, and the second string of its course an octave above: no fault."""
    _, settings = playback_of("O")
    make = making_of(settings).strings[1, False]
    rest = plucked(
        at_rest(make, StringStop(0.01, hertz, True), "wood", 1.0), PluckShape(0.1, 0.001, 0.0, 1.0)
    )
    sound = partials(rest.amplitudes, rest.rates, 1000)
    assert np.isfinite(sound).all()
    assert (np.abs(sound).max() == 0) == (hertz > 16000)
