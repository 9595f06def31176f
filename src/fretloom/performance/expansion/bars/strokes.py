"""Patterns as written to a row of places in time, each with what is plucked there.

Beats share the bar, items share a beat, `[ ]` shares a place again; all exact.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from fretloom.notation.model.pattern import (
    Brush,
    Group,
    Hold,
    Item,
    PatternBar,
    Pluck,
    Roll,
    Stroke,
)
from fretloom.trade.music.meter import Meter

Extent = tuple[Fraction, Fraction]


class Hit:
    """One finger's pluck or brush in a stroke.

    `gesture` numbers the rolls and brushes of a bar from 0 (None: plucked at once with the others).
    """

    __slots__ = ("gesture", "part")

    def __init__(self, part: Pluck | Brush, gesture: int | None) -> None:
        self.part = part
        self.gesture = gesture


class Place:
    """A share of a beat, in quarter notes from the bar's start; `hits` is empty for `-`."""

    __slots__ = ("hits", "length", "onset")

    def __init__(self, onset: Fraction, length: Fraction, hits: tuple[Hit, ...]) -> None:
        self.onset = onset
        self.length = length
        self.hits = hits

    @property
    def end(self) -> Fraction:
        """Where the place ends."""
        return self.onset + self.length


def beat_extents(meter: Meter, start: Fraction, length: Fraction) -> tuple[Extent, ...]:
    """Return the beats of a bar that lie in `start` to `start + length`, cut to it."""
    end = start + length
    starts = meter.beat_starts
    return tuple(
        (max(begin, start), min(stop, end))
        for begin, stop in pairwise(starts)
        if stop > start and begin < end
    )


def lay_out(bar: PatternBar, extents: Sequence[Extent]) -> tuple[Place, ...]:
    """Lay the beats of a pattern's bar over beats in time; there must be as many of both."""
    places: list[Place] = []
    gestures = _Counter()
    for beat, (start, end) in zip(bar.beats, extents, strict=True):
        _share(beat.items, start, end - start, gestures, places)
    return tuple(places)


class _Counter:
    """Numbers the rolls and brushes of one bar."""

    __slots__ = ("next",)

    def __init__(self) -> None:
        self.next = 0

    def take(self) -> int:
        self.next += 1
        return self.next - 1


def _share(
    items: tuple[Item, ...],
    start: Fraction,
    length: Fraction,
    gestures: _Counter,
    places: list[Place],
) -> None:
    """Share a stretch of time among items; groups are divided again, without recursion."""
    waiting: list[tuple[Item, Fraction, Fraction]] = []
    _push(waiting, items, start, length)
    while waiting:
        item, onset, share = waiting.pop()
        if isinstance(item, Group):
            _push(waiting, item.items, onset, share)
        elif isinstance(item, Hold):
            places.append(Place(onset, share, ()))
        else:
            places.append(Place(onset, share, _hits(item, gestures)))


def _push(
    waiting: list[tuple[Item, Fraction, Fraction]],
    items: tuple[Item, ...],
    start: Fraction,
    length: Fraction,
) -> None:
    if not items:
        return
    share = length / len(items)
    for index in range(len(items) - 1, -1, -1):
        waiting.append((items[index], start + index * share, share))


def _hits(stroke: Stroke, gestures: _Counter) -> tuple[Hit, ...]:
    hits: list[Hit] = []
    for part in stroke.parts:
        if isinstance(part, Roll):
            gesture = gestures.take()
            hits.extend(Hit(one, gesture) for one in part.parts)
        else:
            hits.append(Hit(part, gestures.take() if isinstance(part, Brush) else None))
    return tuple(hits)
