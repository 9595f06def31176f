"""How long notes ring, worked out once for each sequence of bars that matters to it.

A note rings until its string is plucked again, until what holds it is let go, or until the hand
mutes the string or stops it elsewhere; to the end of the piece at most, and at most eight bars past
its own. The bars that have to be looked at make a path in a tree; a path known is not looked at again.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from fretloom.performance.expansion.bars.template import HOLD, RELEASE, Event, Seed, Template

MOST_BARS = 8


class _Node:
    """A bar and the bars looked at after it.

    `rings` is set once every note of the bar is known to have ended.
    """

    __slots__ = ("after", "depth", "elapsed", "ends", "pending", "rings")

    def __init__(
        self, ends: list[Fraction], pending: list[int], elapsed: Fraction, depth: int
    ) -> None:
        self.ends = ends
        self.pending = pending
        self.elapsed = elapsed
        self.depth = depth
        self.rings: tuple[Fraction, ...] | None = None
        self.after: dict[int, _Node] = {}


class RingBook:
    """Remembers how long the notes of a bar ring, by the bars that follow it."""

    def __init__(self) -> None:
        self._first: dict[int, _Node] = {}
        self._same: dict[tuple[int, tuple[Fraction, ...]], tuple[Fraction, ...]] = {}

    def rings(self, bars: Sequence[Template], index: int) -> tuple[Fraction, ...]:
        """Return how long each note of `bars[index]` rings; equal results are one object.

        The templates must outlive the book: they are told apart by identity.
        """
        bar = bars[index]
        node = self._first.get(id(bar))
        if node is None:
            node = self._first[id(bar)] = self._settled(_begin(bar), bar)
        while node.rings is None:
            index += 1
            following = bars[index] if index < len(bars) else None
            key = 0 if following is None else id(following)
            after = node.after.get(key)
            if after is None:
                after = node.after[key] = self._settled(_go_on(node, bar, following), bar)
            node = after
        return node.rings

    def _settled(self, node: _Node, bar: Template) -> _Node:
        if not node.pending:
            rings = tuple(node.ends)
            node.rings = self._same.setdefault((id(bar), rings), rings)
        return node


def _begin(bar: Template) -> _Node:
    ends: list[Fraction] = []
    pending: list[int] = []
    for index, seed in enumerate(bar.seeds):
        end = _end_in(bar.events[seed.string], seed, seed.after)
        if seed.dead:
            ring = seed.length if end is None else min(seed.length, end - seed.onset)
        elif end is None:
            ring = Fraction(0)
            pending.append(index)
        else:
            ring = end - seed.onset
        ends.append(ring)
    return _Node(ends, pending, bar.length, 0)


def _go_on(node: _Node, bar: Template, following: Template | None) -> _Node:
    ends, pending = list(node.ends), []
    elapsed = node.elapsed
    last = following is None or node.depth + 1 == MOST_BARS
    end_of_bar = elapsed + (following.length if following else 0)
    for index in node.pending:
        seed = bar.seeds[index]
        end = _end_in(following.events[seed.string], seed) if following else None
        if end is not None:
            ends[index] = elapsed + end - seed.onset
        elif last:
            ends[index] = end_of_bar - seed.onset
        else:
            pending.append(index)
    return _Node(ends, pending, end_of_bar, node.depth + 1)


def _end_in(events: list[Event], seed: Seed, first: int = 0) -> Fraction | None:
    """Return when a bar's events end a note: the first one that does, from a place on."""
    for event in events[first:] if first else events:
        if _ends(event, seed):
            return event[0]
    return None


def _ends(event: Event, seed: Seed) -> bool:
    kind, voicing = event[1], event[3]
    if kind == RELEASE:
        return seed.held_fret > 0
    if kind != HOLD:
        return True
    if voicing is None:
        return True
    if voicing is seed.held:
        return False
    fret = voicing.fret(seed.string)
    if fret != seed.held_fret:
        return True
    finger = voicing.finger(seed.string)
    held_by = seed.slurs[-1].fretting if seed.slurs else seed.fretting
    return bool(fret) and finger is not None and held_by is not None and finger != held_by
