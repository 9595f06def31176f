"""Positions as whole numbers, for a MIDI file and for the player in a page."""

from __future__ import annotations

from fractions import Fraction

#: Ticks of a quarter note. Halves down to thirty-second parts, thirds and ninths, fifths and sevenths are whole
#: numbers of them; a MIDI file has 15 bits for it.
TICKS = 10_080


def tick(position: Fraction) -> int:
    """Return the tick that is nearest to a position in quarter notes, the later one of two."""
    parts = position.denominator
    return (2 * TICKS * position.numerator + parts) // (2 * parts)
