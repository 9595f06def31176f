"""The strings of an instrument: how heavy, stiff and long each is, and how it loses its sound."""

from __future__ import annotations

import math
from typing import Any

from fretloom.formats.sound.guitar.constants import table, value
from fretloom.performance.events import Settings
from fretloom.performance.playback.sounds import StringSound
from fretloom.trade.guitar.instruments import instrument_for
from fretloom.trade.guitar.tuning import Tuning
from fretloom.trade.guitar.tunings import usual_tuning
from fretloom.values import frozen

#: ISO 16:1975: the A above middle C, MIDI number 69.
CONCERT_A, CONCERT_MIDI = 440.0, 69
#: A string that is tuned so far from the usual one, in semitones, is another string.
_RETUNED = 4


@frozen
class StringMake:
    """One string.

    Args:
        length: of the open string without capo, m. weight: kg/m. stiffness: E I, N m2.
        decay: the three constants of its losses. share: 0 for the string with the highest number to 1 for string 1.
    """

    length: float
    weight: float
    stiffness: float
    decay: tuple[float, float, float]
    share: float


@frozen
class Making:
    """An instrument as it sounds: its strings by number (and whether it is the second of a course), and its body.

    `size` is how much higher its body's modes lie than those of the table; `scale` the open strings' length, m.
    """

    strings: dict[tuple[int, bool], StringMake]
    body: str
    size: float
    scale: float
    capo: dict[int, int]


def frequency(midi: float) -> float:
    """Return the frequency of a MIDI number, which may have a fraction, in equal temperament."""
    return CONCERT_A * float(2.0 ** ((midi - CONCERT_MIDI) / 12))


def force_of(loudness: int) -> float:
    """Return how hard a string is plucked for a loudness, 1 for the usual one."""
    force: float = (loudness / value("strings", "usual_loudness")) ** value(
        "strings", "loudness_power"
    )
    return force


def making_of(settings: Settings) -> Making:
    """Return how the instrument of a lesson is made."""
    tuning = settings.tuning
    instrument = instrument_for(settings.instrument, tuning)
    made = table("instruments")[instrument.name]
    family = table("families")[made["family"]]
    scale = float(settings.scale or instrument.scale) / 1000
    strings: dict[tuple[int, bool], StringMake] = {}
    usual = usual_tuning(tuning)
    for number in range(1, tuning.strings + 1):
        share = (tuning.strings - number) / max(1, tuning.strings - 1)
        place = tuning.strings - number
        both = ((False, tuning), (True, tuning)) if tuning.doubles else ((False, tuning),)
        for mate, _ in both:
            midi = _open(tuning, place, mate)
            sold = midi if usual is None else _open(usual, place, mate)
            if abs(sold - midi) > _RETUNED:
                sold = midi
            strings[number, mate] = _string(family, sold, scale, made["tension"], share)
    capo = {number: settings.capo.on(number) for number in range(1, tuning.strings + 1)}
    return Making(strings, made["body"], made["size"], scale, capo)


def _open(tuning: Tuning, place: int, mate: bool) -> int:
    double = tuning.doubles[place] if mate and tuning.doubles else None
    return (double or tuning.pitches[place]).midi


def _string(family: Any, midi: int, scale: float, tighter: float, share: float) -> StringMake:
    """Return the string that is sold for a pitch: plain as long as it is thin enough, else wound on a core."""
    around = 2 * family["scale"] * frequency(midi)
    weight = family["plain_tension"] * tighter / around**2
    thick = math.sqrt(4 * weight / (math.pi * family["density"]))
    decay = family["plain_decay"]
    if thick > family["thickest_plain"]:
        weight = family["wound_tension"] * tighter / around**2
        thick = family["core"] * (weight / family["core_weight"]) ** family["core_power"]
        decay = family["wound_decay"]
    stiffness = family["young"] * math.pi * thick**4 / 64
    return StringMake(scale, weight, stiffness, tuple(decay), share)


def struck_as(sound: StringSound, settings: Settings) -> tuple[int, int, float]:
    """Return what a string is plucked as: every which of its partials sounds, its fret, and the MIDI number of that.

    Only of a harmonic are these others than those of the note: it sounds above what the string is stopped at.
    """
    note = sound.note
    if not note.harmonic and note.technique.touch is None:
        return 1, note.fret, float(sound.midi)
    fret = 0 if note.harmonic else note.fret
    above = sound.midi - note.midi
    string = settings.tuning.open_pitch(sound.string).midi + settings.capo.on(sound.string)
    midi = string + fret + float(above)
    return max(2, round(2.0 ** ((float(sound.midi) - midi) / 12))), fret, midi
