"""Find the fingers for frets: every legal assignment, the one players would most likely use first.

Strings at one fret are cut into runs, each held by one finger; runs at higher frets get
higher-numbered fingers. That only leaves assignments that keep the finger order and do not tangle;
barres, reach and the thumb are checked after that.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from itertools import groupby, permutations

from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.playability.reach import (
    PAD,
    THUMB_TO_INDEX,
    THUMB_TO_LOWEST,
    Contact,
    Hand,
    apart,
    comfortable,
    maximum,
)
from fretloom.trade.playability.shape import THUMB_BARRE, Fingers, Frets, sounding
from fretloom.trade.playability.terms import FEW, cost_of, finger_terms, pair_terms, whole_terms
from fretloom.trade.playability.weights import THUMB_COST
from fretloom.values import frozen

#: Enough for every voicing of the dataset (at most 292 legal assignments).
MOST = 400
_FORBIDDEN = float("inf")
_PAIRS_KEPT = 1 << 17


@frozen
class Fingering:
    """Fingers from the string with the highest number to string 1, and what they cost.

    Costs compare fingerings of the same frets only.
    """

    fingers: Fingers
    cost: float


#: A fret from the nut and the strings that one finger holds there, bass first.
Run = tuple[int, tuple[int, ...]]
Placed = tuple[tuple[str, Run], ...]


def fingerings(
    frets: Frets, neck: Neck, hand: Hand, *, thumb: bool = False, limit: int = MOST
) -> tuple[Fingering, ...]:
    """Return the legal fingerings of frets, least cost first; equal costs in order of the fingers.

    Empty when no legal fingering exists (or a fret does not exist). `thumb` allows the thumb over
    the neck on the string with the highest number.
    """
    return _all_fingerings(frets, neck, hand, thumb)[:limit]


@lru_cache(maxsize=4096)
def _all_fingerings(frets: Frets, neck: Neck, hand: Hand, thumb: bool) -> tuple[Fingering, ...]:
    if not _exist(frets, neck):
        return ()
    shape = _FingersFor(neck, hand, frets)
    found = list(shape.assignments())
    if thumb and frets[0]:
        found += _FingersFor(neck, hand, frets, thumb=True).assignments()
    found.sort(key=lambda one: (round(one.cost, 9), tuple(finger or "" for finger in one.fingers)))
    return tuple(found[:MOST])


def _exist(frets: Frets, neck: Neck) -> bool:
    count = len(frets)
    return all(not fret or neck.has(count - at, fret) for at, fret in enumerate(frets))


class _Ruler:
    """The cost of pairs of fingers on one neck for one hand, remembered."""

    def __init__(self, neck: Neck, hand: Hand, thumb: bool) -> None:
        self.neck, self.hand, self.thumb = neck, hand, thumb
        self._known: dict[tuple[str, Run, str, Run], float] = {}

    def pair(self, one: str, first: Run, other: str, second: Run) -> float:
        """Return the cost of two fingers (`one` lower in number), infinite if that is impossible."""
        key = (one, first, other, second)
        cost = self._known.get(key)
        if cost is None:
            if len(self._known) > _PAIRS_KEPT:
                self._known.clear()
            cost = self._known[key] = self._pair(one, first, other, second)
        return cost

    def _pair(self, one: str, first: Run, other: str, second: Run) -> float:
        distance = apart(self.neck, one, _contact(first), other, _contact(second))
        if distance > maximum(self.hand, one, other, thumb=self.thumb):
            return _FORBIDDEN
        strain = max(0.0, distance - comfortable(self.hand, one, other))
        frets = second[0] - first[0]
        return cost_of(pair_terms((one, first[1]), (other, second[1]), frets, strain))


_ruler = lru_cache(maxsize=64)(_Ruler)


def _contact(run: Run) -> Contact:
    return Contact(run[0], run[1][0], run[1][-1])


class _FingersFor:
    """The frets of one voicing, and their possible fingerings (with the thumb, or without)."""

    def __init__(self, neck: Neck, hand: Hand, frets: Frets, thumb: bool = False) -> None:
        self.frets, self.thumb = frets, thumb
        self.neck, self.hand = neck, hand
        self.pad = PAD * hand.factor
        self.ruler = _ruler(neck, hand, thumb)
        self.sounds = sounding(neck, frets)
        self.any_open = 0 in frets
        reached = neck.span(neck.first, neck.first + 3)
        self.in_position = reached <= comfortable(hand, "1", "4")
        self._alone: dict[tuple[str, Run], float] = {}
        count = len(frets)
        strings = [count - at for at, fret in enumerate(frets) if fret and not (thumb and at == 0)]
        by_fret = sorted(strings, key=lambda string: (self.sounds[string], -string))
        self.levels = [
            self._cuts(fret, tuple(group))
            for fret, group in groupby(by_fret, key=self.sounds.__getitem__)
        ]

    def assignments(self) -> Iterator[Fingering]:
        """Yield every legal fingering, in no particular order."""
        for placed, cost in self._place(0, (), 0.0):
            if not self.thumb:
                yield self._fingering(placed, cost)
            elif self._thumb_reaches(placed):
                yield self._fingering(placed, cost + THUMB_COST)

    def _cuts(self, fret: int, strings: tuple[int, ...]) -> list[list[Run]]:
        """Return all ways to cut the strings at one fret into runs, each held by one finger."""
        ways: list[list[Run]] = []
        for mask in range(1 << (len(strings) - 1)):
            runs, start = [], 0
            for at in range(1, len(strings) + 1):
                if at == len(strings) or mask >> (at - 1) & 1:
                    runs.append((fret, strings[start:at]))
                    start = at
            if len(runs) <= 4 and all(self._holds(run) for run in runs):
                ways.append(runs)
        return ways

    def _holds(self, run: Run) -> bool:
        """Whether one finger can hold a run: no lower note sounds under it or far beyond it."""
        fret, strings = run
        bass, treble = strings[0], strings[-1]
        if bass == treble:
            return True
        lower = [string for string, at in self.sounds.items() if at < fret and string < bass]
        if any(string > treble for string in lower):
            return False
        return not lower or (bass - treble) * self.neck.spacing(fret) <= self.pad

    def _place(self, level: int, placed: Placed, cost: float) -> Iterator[tuple[Placed, float]]:
        if level == len(self.levels):
            used: tuple[tuple[str, int], ...] = tuple((finger, run[0]) for finger, run in placed)
            written: tuple[int, ...] = ()
            if self.any_open and len(placed) <= FEW:
                on = self.neck.capo.on
                written = tuple(run[0] - on(run[1][0]) for _, run in placed)
            yield placed, cost + _whole_cost(used, written, self.in_position)
            return
        lowest = int(max(placed)[0]) if placed else 0
        # Every level above needs a finger with a higher number.
        free = "1234"[lowest : 4 - (len(self.levels) - level - 1)]
        for runs in self.levels[level]:
            for fingers in permutations(free, len(runs)):
                new = tuple(zip(fingers, runs, strict=True))
                more = self._added(placed, new)
                if more < _FORBIDDEN:
                    yield from self._place(level + 1, placed + new, cost + more)

    def _added(self, placed: Placed, new: Placed) -> float:
        """Return the cost of more fingers beside those already placed; infinite if they cannot be there."""
        cost = 0.0
        pair = self.ruler.pair
        for finger, run in new:
            for other, held in placed:
                if other < finger:
                    cost += pair(other, held, finger, run)
                else:
                    cost += pair(finger, run, other, held)
                if cost == _FORBIDDEN:
                    return cost
            cost += self._finger(finger, run)
            placed = (*placed, (finger, run))
        return cost

    def _finger(self, finger: str, run: Run) -> float:
        cost = self._alone.get((finger, run))
        if cost is None:
            fret, strings = run
            beyond = sum(at < fret and string < strings[-1] for string, at in self.sounds.items())
            cost = _finger_cost(finger, strings, beyond if len(strings) > 1 else 0, self.any_open)
            self._alone[finger, run] = cost
        return cost

    def _thumb_reaches(self, placed: Placed) -> bool:
        if not placed:
            return True
        fret = self.sounds[len(self.frets)]
        nearest, run = min(placed, key=lambda one: (one[0] != "1", one[1][0]))
        limit = THUMB_TO_INDEX if nearest == "1" else THUMB_TO_LOWEST
        if self.neck.span(fret, run[0]) > limit * self.hand.factor:
            return False
        return nearest != "1" or run[1][0] - run[1][-1] + 1 < THUMB_BARRE

    def _fingering(self, placed: Placed, cost: float) -> Fingering:
        at = {string: finger for finger, run in placed for string in run[1]}
        if self.thumb:
            at[len(self.frets)] = "T"
        count = len(self.frets)
        return Fingering(tuple(at.get(count - index) for index in range(count)), cost)


@lru_cache(maxsize=4096)
def _finger_cost(finger: str, strings: tuple[int, ...], beyond: int, any_open: bool) -> float:
    return cost_of(finger_terms(finger, strings, beyond, any_open))


@lru_cache(maxsize=1 << 14)
def _whole_cost(
    placed: tuple[tuple[str, int], ...], written: tuple[int, ...], in_position: bool
) -> float:
    return cost_of(whole_terms(placed, written, in_position))
