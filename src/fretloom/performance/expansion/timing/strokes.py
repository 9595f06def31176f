"""Patterns as written to a row of places in time, each with what is plucked there.

Beats share the bar, items share a beat, `[ ]` shares a place again; all exact.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import count, pairwise
from math import lcm

from fretloom.notation.model.pattern import (
    Brush,
    Group,
    Hold,
    Item,
    PatternBar,
    Pluck,
    Roll,
    Slap,
    Stroke,
)
from fretloom.performance.expansion.timing.ticks import ticks
from fretloom.trade.music.meter import Count, Meter
from fretloom.values import frozen

#: Where a beat begins, from the bar's start, and how long it is, in quarter notes.
Extent = tuple[Fraction, Fraction]


@frozen(eq=False)
class Hit:
    """One finger's pluck or brush in a stroke, or a slap.

    `gesture` numbers the rolls and brushes of a bar from 0 (None: plucked at once with the others);
    `added` is the count on which a `with` put it, `slow` says that it belongs to a slow roll.
    """

    part: Pluck | Brush | Slap
    gesture: int | None = None
    added: Count | None = None
    slow: bool = False


@frozen(eq=False)
class Place:
    """A share of a beat, in units from the bar's start; `hits` is empty for `-`."""

    onset: int
    length: int
    hits: tuple[Hit, ...]

    @property
    def end(self) -> int:
        """Where the place ends."""
        return self.onset + self.length


@frozen(eq=False)
class Layout:
    """The places of one bar; `unit` says how many of their units make a quarter note."""

    unit: int
    places: tuple[Place, ...]

    def at(self, unit: int) -> tuple[Place, ...]:
        """Return the places in a finer unit."""
        factor = unit // self.unit
        if factor == 1:
            return self.places
        return tuple(
            Place(one.onset * factor, one.length * factor, one.hits) for one in self.places
        )

    def cut(self, start: Fraction, length: Fraction) -> Layout:
        """Return the part of a short bar. What comes before it stays, before 0, for the thumb's walk."""
        unit = lcm(self.unit, start.denominator, length.denominator)
        begin, end = ticks(start, unit), ticks(length, unit)
        places = (Place(one.onset - begin, one.length, one.hits) for one in self.at(unit))
        return Layout(
            unit,
            tuple(
                Place(one.onset, min(one.length, end - one.onset), one.hits)
                for one in places
                if one.onset < end
            ),
        )


EMPTY = Layout(1, ())


def beat_extents(meter: Meter, start: Fraction, length: Fraction) -> tuple[Extent, ...]:
    """Return the beats of a bar between `start` and `start + length`, cut to fit, counted from `start`."""
    end = start + length
    starts = meter.beat_starts
    return tuple(
        ((first := max(begin, start)) - start, min(stop, end) - first)
        for begin, stop in pairwise(starts)
        if stop > start and begin < end
    )


def lay_out(bar: PatternBar, extents: Sequence[Extent]) -> Layout:
    """Lay the beats of a pattern's bar over beats in time; there must be as many of one as of the other."""
    unit = _unit(bar, extents)
    gestures = count()
    places: list[Place] = []
    for beat, (start, length) in zip(bar.beats, extents, strict=True):
        for item, onset, share in _shared(beat.items, ticks(start, unit), ticks(length, unit)):
            hits = () if isinstance(item, Hold) else _hits(item, gestures)
            places.append(Place(onset, share, hits))
    return Layout(unit, tuple(places))


def _unit(bar: PatternBar, extents: Sequence[Extent]) -> int:
    """Return a unit that every place of the bar is a whole number of."""
    units = [start.denominator for start, _ in extents]
    waiting = [
        (beat.items, length.denominator)
        for beat, (_, length) in zip(bar.beats, extents, strict=True)
    ]
    while waiting:
        items, divided = waiting.pop()
        if items:
            parts = divided * len(items)
            units.append(parts)
            waiting += [(item.items, parts) for item in items if isinstance(item, Group)]
    return lcm(*units)


def _shared(
    items: tuple[Item, ...], start: int, length: int
) -> Iterator[tuple[Stroke | Hold, int, int]]:
    """Share a stretch of time among items; groups are divided again, without recursion."""
    waiting: list[tuple[Item, int, int]] = []
    _push(waiting, items, start, length)
    while waiting:
        item, onset, share = waiting.pop()
        if isinstance(item, Group):
            _push(waiting, item.items, onset, share)
        else:
            yield item, onset, share


def _push(
    waiting: list[tuple[Item, int, int]], items: tuple[Item, ...], start: int, length: int
) -> None:
    if items:
        share = length // len(items)
        waiting += [
            (items[index], start + index * share, share) for index in range(len(items) - 1, -1, -1)
        ]


def _hits(stroke: Stroke, gestures: Iterator[int]) -> tuple[Hit, ...]:
    hits: list[Hit] = []
    for part in stroke.parts:
        if isinstance(part, Roll):
            gesture = next(gestures)
            hits.extend(Hit(one, gesture, slow=part.slow) for one in part.parts)
        else:
            hits.append(Hit(part, next(gestures) if isinstance(part, Brush) else None))
    return tuple(hits)
