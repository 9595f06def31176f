"""Tempo: how many notes of one value in a minute."""

from __future__ import annotations

from fractions import Fraction

from fretloom.shapes import shaped
from fretloom.trade.music.meter import Meter
from fretloom.values import frozen

#: What notes of a length in quarter notes are called.
NOTES = {
    Fraction(4): "whole notes", Fraction(3): "dotted half notes", Fraction(2): "half notes",
    Fraction(3, 2): "dotted quarter notes", Fraction(1): "quarter notes",
    Fraction(3, 4): "dotted eighth notes", Fraction(1, 2): "eighth notes",
    Fraction(1, 4): "sixteenth notes",
}  # fmt: skip


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


def in_beats(tempo: Tempo, meter: Meter) -> Tempo:
    """Return a tempo in quarter notes as the beats of a meter count it, if that is a whole number.

    `tempo 60` in 6/8 is 40 dotted quarter notes a minute, which is what a metronome ticks.
    """
    beat = meter.beats[0]
    number = tempo.per_minute / beat
    if tempo.unit != 1 or set(meter.beats) != {beat} or number.denominator != 1:
        return tempo
    return Tempo(number, beat)


def number_words(value: Fraction) -> str:
    """Write 96, 92.5 or 277/3."""
    if value.denominator == 1:
        return str(value.numerator)
    exact = (value * 100).denominator == 1
    return f"{float(value):.2f}".rstrip("0") if exact else str(value)


def in_notes(tempo: Tempo) -> str:
    """Say a tempo in short: `96`, `60 in dotted quarter notes`, `60 in notes of 5/16`."""
    figure = number_words(tempo.per_minute)
    if tempo.unit == 1:
        return figure
    return f"{figure} in {NOTES.get(tempo.unit) or f'notes of {tempo.unit / 4}'}"
