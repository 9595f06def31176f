"""Tempo: how many notes of one value in a minute."""

from __future__ import annotations

from fractions import Fraction

from fretloom.shapes import shaped
from fretloom.values import frozen


def _not_positive(tempo: Tempo) -> str:
    for name in ("per_minute", "unit"):
        if getattr(tempo, name) <= 0:
            return f"{name}: more than 0, not {getattr(tempo, name)}"
    return ""


@shaped(also=_not_positive)
@frozen
class Tempo:
    """`per_minute` notes of length `unit` (in quarter notes: 1, or 3/2 for "to 3/8") in a minute."""

    per_minute: Fraction
    unit: Fraction = Fraction(1)

    @property
    def quarters_per_minute(self) -> Fraction:
        """Tempo in quarter notes a minute, as MusicXML's `sound tempo` counts it."""
        return self.per_minute * self.unit
