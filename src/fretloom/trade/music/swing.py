"""Swing: which notes of a meter come in pairs that can be uneven."""

from __future__ import annotations

from fractions import Fraction

from fretloom.trade.music.meter import Meter


def swung_notes(meter: Meter) -> frozenset[Fraction]:
    """Return the lengths of the notes that swing, in quarter notes: the halves of beats that have halves.

    In 4/4 eighths, in 2/2 quarter notes; in 6/8, whose beats are three eighths, none. Of 2+2+3/8 the
    two shorter beats have halves.
    """
    return frozenset(beat / 2 for beat in meter.beats if _plain(beat))


def _plain(beat: Fraction) -> bool:
    """Whether a beat is one note without a dot."""
    return beat.numerator & (beat.numerator - 1) == 0
