"""Tempo: how many notes of a value a minute."""

from __future__ import annotations

from fractions import Fraction

from fretloom.values import frozen


@frozen
class Tempo:
    """So many `unit`s (in quarter notes: 1, or 3/2 for "to 3/8") a minute."""

    per_minute: Fraction
    unit: Fraction = Fraction(1)

    @property
    def quarters_per_minute(self) -> Fraction:
        """Tempo in quarter notes a minute, as MusicXML's `sound tempo` counts it."""
        return self.per_minute * self.unit
