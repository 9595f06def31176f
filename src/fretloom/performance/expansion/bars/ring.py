"""How long notes ring, worked out once for each sequence of bars that matters to it.

A note rings until its string is plucked again, until what holds it is let go, or until the hand
mutes the string or stops it elsewhere; to the end of the piece at most, and at most eight bars past
its own. The bars that have to be looked at make a path in a tree; a known path is not looked at
again.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import gcd, lcm

from attrs import field

from fretloom.performance.expansion.timing.template import HOLD, RELEASE, Event, Seed, Template
from fretloom.performance.expansion.timing.ticks import quarters
from fretloom.values import frozen

MOST_BARS = 8


@frozen(eq=False)
class Rings:
    """How long each note of a bar rings, in quarter notes."""

    lengths: tuple[Fraction, ...]


@frozen(eq=False)
class _Followed:
    """A bar and the bars looked at after it, in units; `unit` of them make a quarter note.

    `rings` is set once every note of the bar is known to have ended; `after` is what is known of
    the bars that may follow (None: the end of the piece).
    """

    unit: int
    ends: tuple[int, ...]
    pending: tuple[int, ...]
    elapsed: int
    depth: int
    rings: Rings | None
    after: dict[Template | None, _Followed] = field(factory=dict)


class RingBook:
    """Remembers how long the notes of a bar ring, by the bars that follow it."""

    def __init__(self) -> None:
        self._first: dict[Template, _Followed] = {}
        self._same: dict[tuple[Template, int, tuple[int, ...]], Rings] = {}

    def rings(self, bars: Sequence[Template], index: int) -> Rings:
        """Return how long each note of `bars[index]` rings; equal results are one object."""
        bar = bars[index]
        node = self._first.get(bar)
        if node is None:
            node = self._first[bar] = self._begin(bar)
        while node.rings is None:
            index += 1
            following = bars[index] if index < len(bars) else None
            after = node.after.get(following)
            if after is None:
                after = node.after[following] = self._go_on(node, bar, following)
            node = after
        return node.rings

    def _node(
        self,
        bar: Template,
        unit: int,
        ends: list[int],
        pending: list[int],
        elapsed: int,
        depth: int,
    ) -> _Followed:
        rings = None
        if not pending:
            shared = gcd(unit, *ends)  # Equal lengths look alike, whatever they were counted in.
            key = (bar, unit // shared, tuple([end // shared for end in ends]))
            rings = self._same.get(key)
            if rings is None:
                table = quarters(key[1])
                rings = self._same[key] = Rings(tuple([table[end] for end in key[2]]))
        return _Followed(unit, tuple(ends), tuple(pending), elapsed, depth, rings)

    def _begin(self, bar: Template) -> _Followed:
        ends: list[int] = []
        pending: list[int] = []
        for index, (seed, after) in enumerate(zip(bar.seeds, bar.after, strict=True)):
            end = _end_in(bar.events[seed.note.string], seed, after)
            if seed.note.dead:
                ring = seed.length if end is None else min(seed.length, end - seed.onset)
            elif end is None:
                ring = 0
                pending.append(index)
            else:
                ring = end - seed.onset
            ends.append(ring)
        return self._node(bar, bar.unit, ends, pending, bar.length, 0)

    def _go_on(self, node: _Followed, bar: Template, following: Template | None) -> _Followed:
        unit = node.unit if following is None else lcm(node.unit, following.unit)
        factor = unit // node.unit
        ends = [end * factor for end in node.ends]
        elapsed, own = node.elapsed * factor, unit // bar.unit
        theirs = unit // following.unit if following else 1
        end_of_bar = elapsed + (following.length * theirs if following else 0)
        last = following is None or node.depth + 1 == MOST_BARS
        pending: list[int] = []
        for index in node.pending:
            seed = bar.seeds[index]
            end = _end_in(following.events[seed.note.string], seed) if following else None
            if end is not None:
                ends[index] = elapsed + end * theirs - seed.onset * own
            elif last:
                ends[index] = end_of_bar - seed.onset * own
            else:
                pending.append(index)
        return self._node(bar, unit, ends, pending, end_of_bar, node.depth + 1)


def _end_in(events: list[Event], seed: Seed, first: int = 0) -> int | None:
    """Return when an event of a bar ends a note: the first one that does, from a place on."""
    for event in events[first:] if first else events:
        if _ends(event, seed):
            return event[0]
    return None


def _ends(event: Event, seed: Seed) -> bool:
    kind, voicing = event[1], event[3]
    if kind == RELEASE:
        return seed.held_fret > 0
    if kind != HOLD or voicing is None:
        return True
    if voicing is seed.held:
        return False
    string = seed.note.string
    fret = voicing.fret(string)
    if fret != seed.held_fret:
        return True
    finger, held_by = voicing.finger(string), seed.held_by
    return bool(fret) and finger is not None and held_by is not None and finger != held_by
