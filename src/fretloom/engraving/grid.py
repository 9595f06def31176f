"""The beats of a bar as a reader sees them, and where a value must be cut to show them."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import cached_property
from itertools import pairwise

from attrs import field

from fretloom.engraving.tuplets import is_compound
from fretloom.engraving.values import SHORTEST, is_dyadic, value_of
from fretloom.trade.music.meter import Meter
from fretloom.values import frozen

Stretch = tuple[Fraction, Fraction]


@frozen
class Grid:
    """A meter's beats; positions are in quarter notes from the start of a full bar."""

    meter: Meter = field()

    @cached_property
    def beats(self) -> tuple[Stretch, ...]:
        """Where each beat begins and ends."""
        starts = self.meter.beat_starts
        return tuple(pairwise(starts))

    @cached_property
    def middle(self) -> Fraction | None:
        """The middle of a bar of four or more equal beats, which no syncopation may hide."""
        beats = self.meter.beats
        even = len(beats) >= 4 and len(beats) % 2 == 0 and len(set(beats)) == 1
        return self.meter.length / 2 if even else None

    @cached_property
    def groups(self) -> tuple[Stretch, ...]:
        """What is joined by a beam: a beat, or several short ones up to a quarter note.

        Three beats of an eighth (3/8) are one group (common practice).
        """
        if max(self.meter.beats) >= 1:
            return self.beats
        length = self.meter.length
        step = length if length <= Fraction(3, 2) else Fraction(1)
        edges = [min(step * index, length) for index in range(int(-(-length // step)) + 1)]
        return tuple(pairwise(edges))

    def split(self, left: Fraction, right: Fraction, rest: bool) -> Iterator[Stretch]:
        """Yield stretches of one written value each that fill the stretch without hiding a beat."""
        if left >= right:
            return
        if self._readable(left, right, rest):
            yield left, right
            return
        middle = self._cut(left, right, rest)
        yield from self.split(left, middle, rest)
        yield from self.split(middle, right, rest)

    def _readable(self, left: Fraction, right: Fraction, rest: bool) -> bool:
        value = value_of(right - left)
        if value is None:
            return False
        if rest:
            return self._readable_rest(left, right, value[1])
        inside = self._boundaries(left, right)
        if not inside or self._in_short_beat(left, right):
            return True
        strongest = self._strength(inside[0])
        if strongest == 2 and self._any_compound(left, right) and self._strength(right) > 2:
            return False
        if self._strength(left) <= strongest:
            return True
        syncopated = self._strength(left) == self._strength(right) == strongest + 1
        simple = not self._any_compound(left, right)
        return syncopated and simple and strongest >= 2 and value[1] == 0

    def _readable_rest(self, left: Fraction, right: Fraction, dots: int) -> bool:
        """Return whether one rest may stand here: a dotted one for whole dotted beats, any other in its usual place."""
        length = right - left
        start, end = self._beat_at(left)
        if dots:
            return is_compound(end - start) and (left, right) in self._halves_and_beats
        if right <= end:
            return (left - start) % length == 0
        return (left, right) in self._halves_and_beats

    @cached_property
    def _halves_and_beats(self) -> frozenset[Stretch]:
        whole = (Fraction(0), self.meter.length)
        if self.middle is None:
            return frozenset(self.beats)
        halves = ((whole[0], self.middle), (self.middle, whole[1]))
        return frozenset((*self.beats, *halves, whole))

    def _beat_at(self, position: Fraction) -> Stretch:
        return next((beat for beat in self.beats if beat[1] > position), self.beats[-1])

    def _cut(self, left: Fraction, right: Fraction, rest: bool) -> Fraction:
        inside = self._boundaries(left, right)
        if not inside:
            return (left + right) / 2
        fits = (cut for cut in reversed(inside) if self._readable(left, cut, rest))
        return next(fits, inside[0])

    def _in_short_beat(self, left: Fraction, right: Fraction) -> bool:
        return any(start <= left and right <= end and end - start <= 1 for start, end in self.beats)

    def _any_compound(self, left: Fraction, right: Fraction) -> bool:
        return any(
            start < right and left < end and not is_dyadic(1 / (end - start))
            for start, end in self.beats
        )

    def _boundaries(self, left: Fraction, right: Fraction) -> list[Fraction]:
        """Return the strongest positions strictly inside, in order; all are equally strong."""
        if self.middle is not None and left < self.middle < right:
            return [self.middle]
        inside = [start for start, _ in self.beats[1:] if left < start < right]
        if inside:
            return inside
        start, end = self._beat_at(left)
        step = _first_step(end - start)
        while step >= SHORTEST:
            first = start + ((left - start) // step + 1) * step
            if first < right:
                count = -(-(right - first) // step)
                return [first + step * index for index in range(int(count))]
            step /= 2
        return []

    def _strength(self, position: Fraction) -> int:
        """Return 0 for the bar line, 1 for the middle, 2 for a beat, more for weaker places."""
        if position in (0, self.meter.length):
            return 0
        if position == self.middle:
            return 1
        start, end = self._beat_at(position)
        if position == start:
            return 2
        steps = (position - start) / _first_step(end - start)
        return 2 + steps.denominator.bit_length()


def _first_step(beat: Fraction) -> Fraction:
    """Return the first division of a beat: its third if dotted, its half if plain."""
    if is_compound(beat):
        return beat / 3
    return beat / 2 if is_dyadic(1 / beat) else Fraction(1, beat.denominator)
