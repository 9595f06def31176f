"""Time signatures, their beats, and the counts that players say aloud.

Lengths and positions are exact `Fraction`s of a quarter note, positions from the bar's start.
A *beat* is what the foot taps and what a pattern's commas separate; a *count* is what is said:
in 4/4 the two are the same, in 6/8 there are two beats and six counts (common practice).
"""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cached_property

from attrs import field

from fretloom.errors import SymbolError
from fretloom.shapes import shaped
from fretloom.values import frozen

_METER = re.compile(r"([0-9]{1,2}(?:\+[0-9]{1,2})*)/([0-9]{1,2})")
_COUNT = re.compile(r"([0-9]{1,2})(e|&|a|trip|let|\+([0-9]{1,2})/([0-9]{1,2}))?")
_PARTS = {
    "": Fraction(0),
    "e": Fraction(1, 4),
    "&": Fraction(1, 2),
    "a": Fraction(3, 4),
    "trip": Fraction(1, 3),
    "let": Fraction(2, 3),
}
_PART_NAMES = {value: name for name, value in _PARTS.items()}
#: How an ungrouped odd meter is read (common practice, no source): the threes go last but in 8 and 10.
_ASSUMED = {5: (2, 3), 7: (2, 2, 3), 8: (3, 3, 2), 10: (3, 3, 2, 2), 11: (3, 3, 3, 2), 13: (3, 3, 3, 2, 2)}  # fmt: skip


@shaped()
@frozen
class Count:
    """A place as it is counted: `2&` is number 2, part 1/2; the part is a share of the count."""

    number: int
    part: Fraction = Fraction(0)

    @property
    def word(self) -> str:
        """What follows the number: "" on it, `&`, `trip`, or a share that has no word as `+1/6`."""
        name = _PART_NAMES.get(self.part)
        return name if name is not None else f"+{self.part}"

    def __str__(self) -> str:
        return f"{self.number}{self.word}"


def parse_count(text: str) -> Count:
    """Read `3`, `2&`, `1e`, `1a`, the triplet words `2trip` and `2let`, or any share as `2+1/6`.

    Raises:
        SymbolError: the text is not a count.
    """
    match = _COUNT.fullmatch(text)
    if match is None or (match[3] and (not int(match[4]) or int(match[3]) >= int(match[4]))):
        raise SymbolError(
            f"{text!r} is not a count", 0, "count as you would aloud: 3, 2&, 1e, 1a, 2trip or 2let"
        )
    part = Fraction(int(match[3]), int(match[4])) if match[3] else _PARTS[match[2] or ""]
    return Count(int(match[1]), part)


def _cannot_be_counted(meter: Meter) -> str:
    """Say why a bar of these groups cannot be counted."""
    if not meter.groups or min(meter.groups) < 1 or meter.units > 64:
        return f"groups: 1 to 64 notes in a bar, each group one at least, not {meter.groups}"
    if meter.unit not in (1, 2, 4, 8, 16, 32):
        return f"unit: 1, 2, 4, 8, 16 or 32, not {meter.unit}"
    if meter.pulses is not None and (meter.pulses < 1 or meter.units % meter.pulses):
        return f"pulses: a number that divides {meter.units}, not {meter.pulses}"
    return ""


@shaped(also=_cannot_be_counted)
@frozen
class Meter:
    """A time signature: `groups` over `unit`, as `2+2+3/8`; `pulses` is the N of "6/8 in N".

    `groups` holds one number unless the teacher wrote a sum. `unit` is 1, 2, 4, 8, 16 or 32.
    """

    groups: tuple[int, ...]
    unit: int
    pulses: int | None = field(default=None)

    @property
    def units(self) -> int:
        """How many units a bar holds: 7 in 2+2+3/8."""
        return sum(self.groups)

    @cached_property
    def length(self) -> Fraction:
        """Length of a bar in quarter notes."""
        return Fraction(4 * self.units, self.unit)

    @cached_property
    def beat_units(self) -> tuple[int | Fraction, ...]:
        """Length of each beat in units."""
        if self.pulses is not None:
            return (Fraction(self.units, self.pulses),) * self.pulses
        if len(self.groups) > 1:
            return self.groups
        if self.units > 3 and self.units % 3 == 0:
            return (3,) * (self.units // 3)
        if self.grouping_assumed:
            return _ASSUMED.get(self.units) or _twos_then_three(self.units)
        return (1,) * self.units

    @property
    def grouping_assumed(self) -> bool:
        """Whether the teacher did not say how an odd meter's units are grouped (7/8, 5/8)."""
        if self.pulses is not None or len(self.groups) > 1:
            return False
        return self.unit >= 8 and self.units > 4 and self.units % 3 != 0

    @cached_property
    def beats(self) -> tuple[Fraction, ...]:
        """Length of each beat in quarter notes."""
        return tuple(Fraction(4 * units) / self.unit for units in self.beat_units)

    @cached_property
    def beat_starts(self) -> tuple[Fraction, ...]:
        """Position of each beat in quarter notes from the bar's start, and the bar's end last."""
        starts = [Fraction(0)]
        for beat in self.beats:
            starts.append(starts[-1] + beat)
        return tuple(starts)

    @cached_property
    def counts_units(self) -> bool:
        """Whether the units are counted and not the beats, as in 6/8 and 2+2+3/8."""
        return (
            any(units not in (1, 2) for units in self.beat_units) or len(set(self.beat_units)) > 1
        )

    @cached_property
    def count_length(self) -> Fraction:
        """Length of one count in quarter notes."""
        return Fraction(4, self.unit) if self.counts_units else self.beats[0]

    @property
    def count_total(self) -> int:
        """How many counts a bar holds."""
        return self.units if self.counts_units else len(self.beats)

    def position(self, count: Count) -> Fraction:
        """Return where a count stands, in quarter notes from the bar's start (may lie outside)."""
        return (count.number - 1 + count.part) * self.count_length

    def end_of(self, count: Count) -> Fraction:
        """Return where a count ends, in quarter notes from the bar's start: where the next one of its kind stands.

        `3` ends at 4, `3&` as well, `3e` at `3&`, `3trip` at `3let`; any other share at the next one
        with its denominator.
        """
        return self.position(count) + self.count_length / count.part.denominator

    def count_at(self, position: Fraction) -> Count:
        """Return the count that stands at a position in quarter notes."""
        number, part = divmod(position / self.count_length, 1)
        return Count(int(number) + 1, part)

    def beat_at(self, position: Fraction) -> Fraction:
        """Return a position as beats from the bar's start: 3/2 is halfway through the second."""
        for index, start in enumerate(self.beat_starts[:-1]):
            if position < self.beat_starts[index + 1]:
                return index + (position - start) / self.beats[index]
        return len(self.beats) + (position - self.length) / self.beats[-1]

    def quarters(self, beats: Fraction) -> Fraction:
        """Return the position in quarter notes of a number of beats after the bar's start."""
        whole, part = divmod(beats, 1)
        index = min(int(whole), len(self.beats) - 1)
        return self.beat_starts[index] + (int(whole) - index + part) * self.beats[index]

    def __str__(self) -> str:
        text = "+".join(map(str, self.groups)) + f"/{self.unit}"
        return text if self.pulses is None else f"{text} in {self.pulses}"


def _twos_then_three(units: int) -> tuple[int, ...]:
    return (2,) * (units // 2) if units % 2 == 0 else (2,) * ((units - 3) // 2) + (3,)


def parse_meter(text: str, pulses: int | None = None) -> Meter:
    """Read `4/4`, `6/8` or `2+2+3/8`; `pulses` is the number after "in", if there is one.

    Raises:
        SymbolError: the text is not a time signature, or cannot be counted in `pulses`.
    """
    match = _METER.fullmatch(text)
    if match is None:
        raise SymbolError(f"{text!r} is not a meter", 0, "write it like 4/4, 6/8 or 2+2+3/8")
    groups = tuple(int(group) for group in match[1].split("+"))
    unit = int(match[2])
    if unit not in (1, 2, 4, 8, 16, 32):
        hint = "write 2, 4, 8 or 16 as the lower number: it is the kind of note"
        raise SymbolError(f"the lower number of {text} is not a kind of note", match.start(2), hint)
    if not all(groups) or sum(groups) > 64:
        raise SymbolError(f"the meter {text} cannot be counted", 0, "use 1 to 64 notes in a bar")
    if pulses is not None and (pulses < 1 or sum(groups) % pulses):
        raise SymbolError(
            f"{text} cannot be counted in {pulses}", 0, f"use a number that divides {sum(groups)}"
        )
    return Meter(groups, unit, pulses)
