"""Spelled notes and sounding pitches.

MIDI numbers follow the MIDI 1.0 specification: middle C is 60, which scientific pitch notation
calls C4; the octave number belongs to the letter, so B#3 is 60 and Cb4 is 59.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Annotated

from fretloom.errors import SymbolError
from fretloom.shapes import Limit, between, shaped
from fretloom.values import frozen

STEPS = "CDEFGAB"
STEP_SEMITONES = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
ACCIDENTAL_SIGNS = {
    "##": 2, "x": 2, "𝄪": 2, "♯♯": 2, "#": 1, "♯": 1,
    "bb": -2, "𝄫": -2, "♭♭": -2, "b": -1, "♭": -1, "♮": 0,
}  # fmt: skip
_NOTE = re.compile(r"([A-G])(##|♯♯|𝄪|#|♯|bb|♭♭|𝄫|b|♭|♮)?(-?[0-9]{1,2})")
_ACCIDENTALS = {-2: "bb", -1: "b", 0: "", 1: "#", 2: "##"}


def _no_letter(step: str) -> str:
    return "" if step in tuple(STEPS) else f"a letter from A to G, not {step[:40]!r}"


#: Letters of notes, and semitones by which they are altered.
Step = Annotated[str, Limit(_no_letter, "A to G")]
Alter = Annotated[int, between(-2, 2)]


@shaped()
@frozen
class NoteName:
    """A letter with its accidental: `step` C to B, `alter` in semitones from -2 to 2."""

    step: Step
    alter: Alter = 0

    @property
    def pitch_class(self) -> int:
        """0 for C up to 11 for B."""
        return (STEP_SEMITONES[self.step] + self.alter) % 12

    def __str__(self) -> str:
        return self.step + _ACCIDENTALS[self.alter]


@shaped()
@frozen
class Pitch:
    """A spelled pitch; `octave` is that of scientific pitch notation (C4 is middle C)."""

    step: Step
    alter: Alter
    octave: int

    @property
    def midi(self) -> int:
        """The MIDI note number (may leave 0 to 127 for unplayable pitches)."""
        return 12 * (self.octave + 1) + STEP_SEMITONES[self.step] + self.alter

    @property
    def frequency(self) -> float:
        """Frequency in hertz, equal temperament with A4 at 440 Hz (ISO 16)."""
        return float(440.0 * 2.0 ** ((self.midi - 69) / 12))

    @property
    def name(self) -> NoteName:
        """The pitch without its octave."""
        return NoteName(self.step, self.alter)

    def __str__(self) -> str:
        return f"{self.name}{self.octave}"


@lru_cache(maxsize=512)
def parse_pitch(text: str) -> Pitch:
    """Read `E2`, `F#3`, `Bb3` (also with the signs ♯ and ♭).

    Raises:
        SymbolError: the text is not a note with an octave.
    """
    match = _NOTE.fullmatch(text)
    if match is None:
        raise SymbolError(
            f"{text!r} is not a note with an octave", 0, "write it like E2, F#3 or Bb3"
        )
    step, sign, octave = match.groups()
    return Pitch(step, ACCIDENTAL_SIGNS[sign] if sign else 0, int(octave))


def spell(midi: int, sharps: bool = True) -> Pitch:
    """Spell a MIDI number with sharps or with flats (one accidental at most)."""
    octave, pitch_class = divmod(midi, 12)
    for step, semitones in STEP_SEMITONES.items():
        if semitones == pitch_class:
            return Pitch(step, 0, octave - 1)
    alter = 1 if sharps else -1
    for step, semitones in STEP_SEMITONES.items():
        if semitones + alter == pitch_class:
            return Pitch(step, alter, octave - 1)
    raise AssertionError("every pitch class has a name")


def fifths_of(note: NoteName) -> int:
    """Return how many fifths a note lies above C: G is 1, F is -1, F# is 6, Bb is -2."""
    return "FCGDAEB".index(note.step) - 1 + 7 * note.alter


def awkward(note: NoteName) -> bool:
    """Whether a note has a plainer name: E#, B#, Fb, Cb and all double accidentals."""
    return abs(note.alter) > 1 or str(note) in ("E#", "B#", "Fb", "Cb")
