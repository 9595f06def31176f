"""Positions as ticks, and a tempo as MIDI says it."""

from __future__ import annotations

from fractions import Fraction

from fretloom.formats.sound.midi.smf import DIVISION

#: A file has 24 bits for the microseconds of a quarter note.
LONGEST_QUARTER = 0xFFFFFF


def tick(position: Fraction) -> int:
    """Return the tick that is nearest to a position in quarter notes, the later one of two."""
    parts = position.denominator
    return (2 * DIVISION * position.numerator + parts) // (2 * parts)


def microseconds(quarters: Fraction) -> int:
    """Return how long a quarter note lasts at a tempo in quarter notes a minute, to the nearest microsecond.

    At most `LONGEST_QUARTER`, 1 at least.
    """
    exact = Fraction(60_000_000) / quarters
    return max(1, min(LONGEST_QUARTER, round(exact)))
