"""Keys: a tonic and a mode, their signature, and their transposition.

A key's signature is counted in fifths from C (MusicXML `fifths`: sharps positive, flats negative).
"""

from __future__ import annotations

import re
from typing import Annotated

from fretloom.errors import SymbolError
from fretloom.shapes import Limit, shaped
from fretloom.trade.music.pitch import ACCIDENTAL_SIGNS, STEPS, NoteName
from fretloom.values import frozen

#: How many fifths a mode's signature lies from that of the major key on the same tonic.
MODES = {
    "major": 0, "minor": -3, "ionian": 0, "dorian": -2, "phrygian": -4,
    "lydian": 1, "mixolydian": -1, "aeolian": -3, "locrian": -5,
}  # fmt: skip
#: A signature has so many sharps or flats at most.
MOST_SIGNS = 7
_FIFTHS = {"F": -1, "C": 0, "G": 1, "D": 2, "A": 3, "E": 4, "B": 5}
_KEY = re.compile(r"([A-G])(#|b|♯|♭)?\s*(m|min|maj)?(?:\s*\b([a-z]+))?")


def _unknown_mode(mode: str) -> str:
    return "" if mode in MODES else f"one of {', '.join(MODES)}, not {mode[:40]!r}"


@shaped()
@frozen
class Key:
    """A key such as E major or F# minor; `mode` is one of `MODES`."""

    tonic: NoteName
    mode: Annotated[str, Limit(_unknown_mode, "one of MODES")] = "major"

    @property
    def fifths(self) -> int:
        """Sharps (positive) or flats (negative) of the signature; may pass 7 for odd spellings."""
        return _FIFTHS[self.tonic.step] + 7 * self.tonic.alter + MODES[self.mode]

    @property
    def with_signature(self) -> Key:
        """The key itself, or the one that sounds the same where its signature would pass seven signs."""
        return self if abs(self.fifths) <= MOST_SIGNS else self.transposed(0)

    def transposed(self, semitones: int) -> Key:
        """Return the key moved up by semitones, spelled with the fewest accidentals.

        Between six sharps and six flats, flats are taken unless the key itself has three
        sharps or more: C and D go to Gb, E goes to F# (common practice, no source).
        """
        if semitones % 12 == 0 and abs(self.fifths) <= 6:
            return self
        pitch_class = (self.tonic.pitch_class + semitones) % 12
        spelled = [
            Key(NoteName(step, alter), self.mode)
            for step in STEPS
            for alter in (-1, 0, 1)
            if NoteName(step, alter).pitch_class == pitch_class
        ]
        sharps = self.fifths >= 3
        return min(spelled, key=lambda key: (abs(key.fifths), (key.fifths > 0) != sharps))

    @property
    def mode_text(self) -> str:
        """What is written after the tonic: nothing for major, `m`, ` dorian`."""
        return {"major": "", "minor": "m"}.get(self.mode, f" {self.mode}")

    def __str__(self) -> str:
        return f"{self.tonic}{self.mode_text}"


def parse_key(text: str) -> Key:
    """Read `E`, `F#m`, `Bb major`, `D dorian`.

    Raises:
        SymbolError: the text does not name a key.
    """
    match = _KEY.fullmatch(text.strip())
    hint = "write it like E, F#m, Bb major or D dorian"
    if match is None:
        raise SymbolError(f"{text!r} is not a key", 0, hint)
    step, sign, short, word = match.groups()
    mode = word or {None: "major", "maj": "major"}.get(short, "minor")
    if mode not in MODES or (short and word):
        raise SymbolError(f"{text!r} is not a key", match.start(4), hint)
    return Key(NoteName(step, ACCIDENTAL_SIGNS[sign] if sign else 0), mode)
