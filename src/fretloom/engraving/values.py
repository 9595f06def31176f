"""Note values: what a length is called and how many dots it has.

Face lengths are in quarter notes, before any tuplet. Names are those of MusicXML 4.0
`note-type-value`.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache

from fretloom.errors import FretloomError

_NAMES = {
    Fraction(32): "maxima", Fraction(16): "long", Fraction(8): "breve", Fraction(4): "whole",
    Fraction(2): "half", Fraction(1): "quarter", Fraction(1, 2): "eighth", Fraction(1, 4): "16th",
    Fraction(1, 8): "32nd", Fraction(1, 16): "64th", Fraction(1, 32): "128th",
    Fraction(1, 64): "256th", Fraction(1, 128): "512th", Fraction(1, 256): "1024th",
}  # fmt: skip
#: The longest value that is written; longer lengths are tied.
LONGEST = Fraction(8)
SHORTEST = Fraction(1, 256)
#: How many beams or flags a value has.
FLAGS = {
    name: count
    for count, name in enumerate(
        ("eighth", "16th", "32nd", "64th", "128th", "256th", "512th", "1024th"), start=1
    )
}


class TooFine(FretloomError):
    """A length is shorter than any note value, or a beat is divided more finely than a file can count."""


#: All lengths that one plain or dotted value has.
VALUES = tuple(
    length
    for plain in _NAMES
    for length in (plain, plain * Fraction(3, 2))
    if plain <= LONGEST and (length == plain or plain > SHORTEST)
)


def is_dyadic(number: Fraction) -> bool:
    """Return whether the denominator is a power of two, so that plain values can express it."""
    return number.denominator & (number.denominator - 1) == 0


@lru_cache(maxsize=1024)
def value_of(face: Fraction) -> tuple[str, int] | None:
    """Return the name and dots (0 or 1) of a face length, or None if no single value has it.

    Raises:
        TooFine: the length is below a 1024th note.
    """
    if face < SHORTEST:
        raise TooFine(f"there is no note value as short as {face} of a quarter note")
    if face in _NAMES and face <= LONGEST:
        return _NAMES[face], 0
    undotted = face * Fraction(2, 3)
    if undotted in _NAMES and undotted <= LONGEST and undotted > SHORTEST:
        return _NAMES[undotted], 1
    return None
