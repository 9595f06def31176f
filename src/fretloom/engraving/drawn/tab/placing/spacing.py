"""Where times lie in the bars of a strip: all to one scale, as wide as what stands closest together needs.

Only where notes follow one another faster than a line has room for, they are moved apart within their bar.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from itertools import pairwise

from fretloom.engraving.drawn.tab.values import LEAD, SLOT, TAIL
from fretloom.values import frozen

#: No slot is shorter, in quarter notes; what is closer is moved apart.
_LEAST_SLOT = Fraction(1, 4)
#: To fill a line, slots may be so much smaller.
_TIGHTEST = 0.9
#: A quarter note is never wider for what stands in it, in millimetres.
_MOST = 26.0
#: Between what is drawn and the bar's ends.
_EDGE = 0.4


@frozen
class TakenRoom:
    """What is taken to both sides of a time, in millimetres."""

    at: Fraction
    left: float
    right: float


@frozen
class Lane:
    """What stands on one level of a bar, and how far apart it must stay."""

    taken: tuple[TakenRoom, ...]
    gap: float = 0.2


@frozen
class Crowd:
    """All that a bar has to find room for: its length, its places in time, its lanes.

    `over` is how wide the bar must be for the words over it, in millimetres.
    """

    length: Fraction
    places: tuple[Fraction, ...]
    lanes: tuple[Lane, ...]
    over: float = 0.0

    def needs(self) -> Iterator[tuple[Fraction, Fraction, float]]:
        """Yield how many millimetres must lie between one time and another; the bar's end is its length."""
        for lane in self.lanes:
            one = _merged(lane.taken)
            for before, after in pairwise(one):
                yield before.at, after.at, before.right + after.left + lane.gap
            if one:
                yield one[-1].at, self.length, one[-1].right + _EDGE - TAIL


@frozen
class Scale:
    """How many millimetres a quarter note has, and where a bar's start lies.

    `least` is the quarter note that still has room for all, where a line is to be filled.
    """

    quarter: float
    lead: float
    least: float = 0.0

    def width(self, length: Fraction) -> float:
        """Return how wide a bar of a length is that needs no more."""
        return self.lead + self.quarter * float(length) + TAIL


@frozen
class Places:
    """Where the times of one bar lie, in millimetres from its line; `width` is the bar's."""

    times: tuple[Fraction, ...]
    across: tuple[float, ...]
    width: float

    def x(self, at: Fraction) -> float:
        """Return where a time lies."""
        after = bisect_right(self.times, at)
        if after >= len(self.times):
            return self.across[-1]
        begin, end = self.times[after - 1], self.times[after]
        left, right = self.across[after - 1], self.across[after]
        return left + (right - left) * float((at - begin) / (end - begin))


def scale_of(crowds: Sequence[Crowd], slot_width: float = SLOT) -> Scale:
    """Return the scale that all bars of a strip share."""
    gaps = [after - before for one in crowds for before, after in pairwise(_slots(one))]
    slot = max(min(gaps, default=Fraction(1)), _LEAST_SLOT)
    lead = max([LEAD, *(_first_left(one) + _EDGE for one in crowds)])
    quarter = slot_width / float(slot)
    least = _TIGHTEST * quarter
    for crowd in crowds:
        for begin, end, room in crowd.needs():
            if end - begin >= _LEAST_SLOT and room > least * float(end - begin):
                least = max(least, min(room / float(end - begin), _MOST))
    return Scale(max(quarter, least), lead, least)


def placed(crowd: Crowd, scale: Scale) -> Places:
    """Return where the times of a bar lie."""
    times = _times(crowd)
    needs: dict[Fraction, list[tuple[Fraction, float]]] = {}
    for begin, end, room in crowd.needs():
        needs.setdefault(end, []).append((begin, room))
    lefts = {one.at: one.left for lane in crowd.lanes for one in _merged(lane.taken)}
    across: dict[Fraction, float] = {}
    for at in times:
        x = scale.lead + scale.quarter * float(at)
        wanted = [across[begin] + room for begin, room in needs.get(at, ()) if begin in across]
        across[at] = max([x, lefts.get(at, 0.0) + _EDGE, *wanted])
    # The words over a bar ask for room at its end: its notes keep the scale of all bars.
    across[crowd.length] = max(across[crowd.length], crowd.over - TAIL)
    return Places(tuple(times), tuple(across.values()), across[crowd.length] + TAIL)


def _slots(crowd: Crowd) -> list[Fraction]:
    return sorted({Fraction(0), crowd.length, *crowd.places})


def _times(crowd: Crowd) -> list[Fraction]:
    inside = {Fraction(0), crowd.length, *crowd.places}
    inside |= {one.at for lane in crowd.lanes for one in lane.taken}
    return sorted(at for at in inside if 0 <= at <= crowd.length)


def _first_left(crowd: Crowd) -> float:
    return max((one.left for lane in crowd.lanes for one in lane.taken if not one.at), default=0.0)


def _merged(taken: Iterable[TakenRoom]) -> list[TakenRoom]:
    """Return what is taken at each time as a whole, in order."""
    whole: dict[Fraction, TakenRoom] = {}
    for one in taken:
        known = whole.get(one.at)
        whole[one.at] = one if known is None else TakenRoom(
            one.at, max(known.left, one.left), max(known.right, one.right)
        )  # fmt: skip
    return [whole[at] for at in sorted(whole)]
