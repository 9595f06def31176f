"""Which notes swing in a meter, and what MusicXML can say of it."""

from __future__ import annotations

from fractions import Fraction
from math import gcd
from typing import Literal

from fretloom.trade.music.meter import Meter
from fretloom.trade.music.swing import swung_notes
from fretloom.values import frozen

#: MusicXML 4.0, `swing-type-value`: it knows these two.
_TYPES: dict[Fraction, Literal["eighth", "16th"]] = {
    Fraction(1, 2): "eighth",
    Fraction(1, 4): "16th",
}


@frozen
class Swung:
    """A ratio without a common factor, and the notes that swing; "" for those that the standard has no word for."""

    first: int
    second: int
    note: Literal["eighth", "16th", ""]


def swung(swing: tuple[int, int] | None, meter: Meter) -> Swung | None:
    """Return what swings in a meter, None if nothing does; of two kinds of notes the longer one is named."""
    notes = swung_notes(meter)
    if swing is None or not notes:
        return None
    common = gcd(*swing)
    return Swung(swing[0] // common, swing[1] // common, _TYPES.get(max(notes), ""))
