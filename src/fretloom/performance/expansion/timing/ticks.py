"""Exact times as whole numbers, inside a bar; outside they are fractions.

Inside a bar every time is a whole number of one unit, which divides a quarter note evenly. Whole
numbers are as exact as fractions, and adding or comparing them costs a tenth.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from math import lcm

_MOST_UNITS = 256


class Quarters(dict[int, Fraction]):
    """A number of units as a fraction of a quarter note; equal times are one object."""

    def __init__(self, unit: int) -> None:
        super().__init__()
        self._unit = unit

    def __missing__(self, count: int) -> Fraction:
        return self.setdefault(count, Fraction(count, self._unit))


@lru_cache(maxsize=_MOST_UNITS)
def quarters(unit: int) -> Quarters:
    """Return the table that turns a number of units into a fraction; a quarter note has `unit` of them."""
    return Quarters(unit)


def unit_of(unit: int, *times: Fraction | None) -> int:
    """Return the largest unit that divides another one and these times evenly."""
    return lcm(unit, *(time.denominator for time in times if time is not None))


def ticks(time: Fraction, unit: int) -> int:
    """Return how many of a unit a time is; the unit has to divide it (see `unit_of`)."""
    return time.numerator * (unit // time.denominator)
