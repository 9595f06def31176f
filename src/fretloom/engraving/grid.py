"""The beats of a bar as a reader sees them, and where a value must be cut to show them.

They go by the time signature alone: six eighths are engraved three and three, and four quarters by
quarters, however the teacher counts them (`6/8 in 6`, `4/4 in 2`). Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import cached_property, lru_cache
from itertools import accumulate, pairwise

from attrs import field

from fretloom.engraving.tuplets import is_compound
from fretloom.engraving.values import SHORTEST, is_dyadic, value_of
from fretloom.trade.music.meter import Meter
from fretloom.values import frozen

Stretch = tuple[Fraction, Fraction]
#: The longest beat that is felt as one: a dotted quarter; a longer one shows its quarters.
_LONGEST_PULSE = Fraction(3, 2)


@frozen
class Grid:
    """A time signature's beats; positions are in quarter notes from the start of a full bar."""

    meter: Meter = field()

    @cached_property
    def lengths(self) -> tuple[Fraction, ...]:
        """How long each beat is, in how many ever the bar is counted."""
        return Meter(self.meter.groups, self.meter.unit).beats

    @cached_property
    def beats(self) -> tuple[Stretch, ...]:
        """Where each beat begins and ends."""
        return _stretches(self.lengths)

    @cached_property
    def counted(self) -> tuple[Stretch, ...]:
        """Where each beat begins and ends as it is counted and as patterns divide it."""
        return _stretches(self.meter.beats)

    @cached_property
    def pulses(self) -> tuple[Stretch, ...]:
        """The beats, those of several quarters divided into these."""
        return _stretches(
            part for beat in self.lengths
            for part in ((Fraction(1),) * int(beat)
                         if beat > _LONGEST_PULSE and beat.denominator == 1 else (beat,))
        )  # fmt: skip

    @cached_property
    def middle(self) -> Fraction | None:
        """The middle of a bar of four or more equal beats, or of two long ones, which no syncopation may hide."""
        beats = self.lengths
        even = len(beats) % 2 == 0 and len(set(beats)) == 1
        return self.meter.length / 2 if even and (len(beats) >= 4 or beats[0] >= 2) else None

    @cached_property
    def groups(self) -> tuple[Stretch, ...]:
        """What is joined by a beam: a beat, or several short ones up to a quarter note.

        Three beats of an eighth (3/8) are one group (common practice).
        """
        if max(self.lengths) >= 1:
            return self.pulses
        length = self.meter.length
        step = length if length <= Fraction(3, 2) else Fraction(1)
        edges = [min(step * index, length) for index in range(int(-(-length // step)) + 1)]
        return tuple(pairwise(edges))

    @cached_property
    def wide_groups(self) -> tuple[Stretch, ...]:
        """What a beam joins where there is nothing but eighths: half a bar of four quarters, a beat of several."""
        quarters = set(self.lengths) == {Fraction(1)}
        if quarters and self.middle is not None:
            pairs = tuple(Fraction(2) for _ in range(len(self.lengths) // 2))
            return _stretches(pairs)
        return self.beats if max(self.lengths) > _LONGEST_PULSE else self.groups

    def split(self, left: Fraction, right: Fraction, rest: bool) -> Iterator[Stretch]:
        """Yield stretches of one written value each that fill the stretch, as few as show its beats."""
        if left >= right:
            return
        if self.readable(left, right, rest):
            yield left, right
            return
        middle = self._cut(left, right, rest)
        yield from self.split(left, middle, rest)
        yield from self.split(middle, right, rest)

    def readable(self, left: Fraction, right: Fraction, rest: bool = False) -> bool:
        """Return whether one value may stand here.

        A note may begin with the bar, or lie evenly about its middle (quarter, half, quarter); else it
        hides no middle. In dotted and mixed beats it fills whole ones or stays inside of one.
        """
        value = value_of(right - left)
        if value is None:
            return False
        if rest:
            return self._readable_rest(left, right, value[1])
        if self.middle is not None and left < self.middle < right:
            about = left + right == 2 * self.middle and not value[1] and self._on_pulse(left)
            if left and not about:
                return False
        inside = [start for start, _ in self.beats[1:] if left < start < right]
        if not inside or not any(not _divides_in_two(beat) for beat in self._met(left, right)):
            return True
        return self._on_beat(left) and self._on_beat(right)

    def reach(self, left: Fraction) -> Fraction:
        """Return up to where a note that begins here may be written if its voice goes on later.

        From the bar's start or a beat to the middle or the end of the bar, from inside a beat to the
        next one.
        """
        if self._on_beat(left):
            ends = [self.meter.length] if self.middle is None else [self.middle, self.meter.length]
            return next((end for end in ends if end > left), self.meter.length)
        places = self.beats if self._on_pulse(left) else self.pulses
        return next((end for _, end in places if end > left), self.meter.length)

    def _on_beat(self, position: Fraction) -> bool:
        return position in self._beat_edges

    def _on_pulse(self, position: Fraction) -> bool:
        return position in self._pulse_edges

    @cached_property
    def _beat_edges(self) -> frozenset[Fraction]:
        return frozenset(edge for beat in self.beats for edge in beat)

    @cached_property
    def _pulse_edges(self) -> frozenset[Fraction]:
        return frozenset(edge for pulse in self.pulses for edge in pulse)

    def _met(self, left: Fraction, right: Fraction) -> Iterator[Fraction]:
        """Yield the lengths of the beats in which a stretch lies."""
        for start, end in self.beats:
            if start < right and left < end:
                yield end - start

    def _readable_rest(self, left: Fraction, right: Fraction, dots: int) -> bool:
        """Return whether one rest may stand here: a dotted one for whole dotted beats, any other in its usual place."""
        length = right - left
        start, end = self._pulse_at(left)
        if dots:
            return is_compound(end - start) and (left, right) in self._halves_and_beats
        if right <= end:
            return (left - start) % length == 0
        return (left, right) in self._halves_and_beats

    @cached_property
    def _halves_and_beats(self) -> frozenset[Stretch]:
        whole = (Fraction(0), self.meter.length)
        if self.middle is None:
            return frozenset((*self.beats, *self.pulses))
        halves = ((whole[0], self.middle), (self.middle, whole[1]))
        return frozenset((*self.beats, *self.pulses, *halves, whole))

    def _pulse_at(self, position: Fraction) -> Stretch:
        return next((pulse for pulse in self.pulses if pulse[1] > position), self.pulses[-1])

    def _cut(self, left: Fraction, right: Fraction, rest: bool) -> Fraction:
        inside = self._boundaries(left, right)
        if not inside:
            return (left + right) / 2
        fits = [cut for cut in inside if self.readable(left, cut, rest)]
        if not rest:
            two = [cut for cut in fits if self.readable(cut, right)]
            # Off the beat the next beat shows first; from a beat on the longer part comes first.
            long = [cut for cut in two if not self._on_beat(left) or cut - left >= right - cut]
            fits = long[:1] or two or fits
        return fits[-1] if fits else inside[0]

    def _boundaries(self, left: Fraction, right: Fraction) -> list[Fraction]:
        """Return the strongest positions strictly inside, in order; all are equally strong."""
        if self.middle is not None and left < self.middle < right:
            return [self.middle]
        for places in (self.beats, self.pulses):
            inside = [start for start, _ in places[1:] if left < start < right]
            if inside:
                return inside
        start, end = self._pulse_at(left)
        step = _first_step(end - start)
        while step >= SHORTEST:
            first = start + ((left - start) // step + 1) * step
            if first < right:
                count = -(-(right - first) // step)
                return [first + step * index for index in range(int(count))]
            step /= 2
        return []


@lru_cache(maxsize=256)
def grid_of(meter: Meter) -> Grid:
    """Return the grid of a meter, made once."""
    return Grid(meter)


def _stretches(lengths: tuple[Fraction, ...] | Iterator[Fraction]) -> tuple[Stretch, ...]:
    return tuple(pairwise(accumulate(lengths, initial=Fraction(0))))


def _divides_in_two(beat: Fraction) -> bool:
    """Whether a beat's quarters or eighths come in pairs: not a dotted one, nor a group of five."""
    return is_dyadic(1 / beat)


def _first_step(beat: Fraction) -> Fraction:
    """Return the first division of a beat: its third if dotted, its half if plain."""
    if is_compound(beat):
        return beat / 3
    return beat / 2 if is_dyadic(1 / beat) else Fraction(1, beat.denominator)
