"""The best fingering for a whole song: every voicing's fingers chosen with all its changes in view.

Each voicing has one fingering throughout, so that the student learns one. What is minimised is

    sum over voicings  of  times held * cost of the fingering (beyond the best for its frets)
  + sum over changes   of  times made * 10 * seconds * (1 + seconds / seconds there are)

over all given fingerings. The minimum is exact: fingerings that cannot be part of it are removed
first, then voicings are eliminated one after the other, fewest neighbours first (dynamic
programming over the graph of changes, which may run in circles).
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from itertools import product
from math import prod

from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.playability.changes import INTERMEDIATE, Skill, change
from fretloom.trade.playability.shape import Fretted
from fretloom.trade.playability.solver import Fingering
from fretloom.values import frozen

#: What a second of changing weighs against the cost of a fingering: so much that G between two Cs is
#: taken with fingers 3 2 4, as teachers advise (common practice, no source), but no odder one.
SECOND = 10.0
#: Fingerings worth considering for a song: so much beyond the best at most, and so many at most.
WITHIN, MOST = 5.0, 8
#: A change counts at most as so many times too fast, so that one hopeless change does not rule all.
MOST_HURRY = 4.0

Name = Hashable


@frozen(kw_only=True)
class PlannedVoicing:
    """A voicing of the song.

    `options` are its possible fingerings, one of them if the teacher gave it; `held` is how often
    it is held; `extra` the cost each option has besides (fingers for extra notes), if any.
    """

    name: Name
    frets: tuple[int | None, ...]
    options: tuple[Fingering, ...]
    held: int = 1
    extra: tuple[float, ...] = ()


@frozen(kw_only=True)
class SongChange:
    """A change of the song: from and to which voicing, how often, and the seconds there are."""

    before: Name
    after: Name
    times: int
    window: float


@frozen
class SongPlan:
    """The best fingering, its cost, and its parts.

    `holding` is the cost by voicing, `changing` by change (before, after), over the whole song.
    """

    fingerings: Mapping[Name, Fingering]
    holding: Mapping[Name, float]
    changing: Mapping[tuple[Name, Name], float]

    @property
    def cost(self) -> float:
        """The cost of the whole song."""
        return sum(self.holding.values()) + sum(self.changing.values())


def likely(options: tuple[Fingering, ...]) -> tuple[Fingering, ...]:
    """Return the fingerings that a player would consider, least cost first.

    The little finger does not replace a free ring finger (common practice, no source), unless it
    also does in the likeliest fingering.
    """
    near = [one for one in options[:MOST] if one.cost <= options[0].cost + WITHIN]
    return tuple(one for one in near if not _spares_ring(one) or _spares_ring(near[0]))


def _spares_ring(option: Fingering) -> bool:
    return "4" in option.fingers and "3" not in option.fingers


def change_cost(
    neck: Neck, before: Fretted, after: Fretted, step: SongChange, skill: Skill
) -> float:
    """Return what a change costs over the whole song."""
    time = change(neck, before, after, skill).time
    hurry = min(MOST_HURRY, time / step.window) if step.window > 0 else MOST_HURRY
    return step.times * SECOND * time * (1 + hurry)


def plan(
    neck: Neck,
    parts: Sequence[PlannedVoicing],
    steps: Sequence[SongChange],
    skill: Skill = INTERMEDIATE,
) -> SongPlan:
    """Return the fingerings of all voicings that cost least; of two equal ones the one listed first.

    Every part needs at least one option. Changes to the same voicing cost nothing.
    """
    graph = _Graph(neck, parts, [step for step in steps if step.before != step.after], skill)
    graph.strike_out()
    return graph.plan_of(graph.eliminate())


def plan_one_by_one(
    neck: Neck,
    parts: Sequence[PlannedVoicing],
    steps: Sequence[SongChange],
    skill: Skill = INTERMEDIATE,
) -> SongPlan:
    """Return the plan that takes the first option of every voicing, for comparison."""
    graph = _Graph(neck, parts, [step for step in steps if step.before != step.after], skill)
    return graph.plan_of([0] * len(parts))


class _Graph:
    """Voicings with the options still open, and the tables of what their changes cost."""

    def __init__(
        self, neck: Neck, parts: Sequence[PlannedVoicing], steps: Sequence[SongChange], skill: Skill
    ) -> None:
        self.neck, self.parts, self.steps, self.skill = neck, parts, steps, skill
        self.place = {part.name: at for at, part in enumerate(parts)}
        self.between: dict[tuple[int, int], list[SongChange]] = {}
        for step in steps:
            key = (self.place[step.before], self.place[step.after])
            self.between.setdefault((min(key), max(key)), []).append(step)
        self.open = [list(range(len(part.options))) for part in parts]
        self.held = [_holding(part) for part in parts]
        self.voicings = [
            [Fretted(part.frets, option.fingers) for option in part.options] for part in parts
        ]
        self.known: dict[tuple[int, int, int, int], float] = {}

    def edge(self, one: int, other: int, first: int, second: int) -> float:
        """What all changes between two voicings cost with these options (`one` < `other`)."""
        key = (one, other, first, second)
        cost = self.known.get(key)
        if cost is None:
            fretted = {one: self.voicings[one][first], other: self.voicings[other][second]}
            cost = self.known[key] = sum(
                change_cost(
                    self.neck,
                    fretted[self.place[step.before]],
                    fretted[self.place[step.after]],
                    step,
                    self.skill,
                )
                for step in self.between[one, other]
            )
        return cost

    def _pair(self, one: int, other: int, first: int, second: int) -> float:
        if one < other:
            return self.edge(one, other, first, second)
        return self.edge(other, one, second, first)

    def neighbours(self, at: int) -> list[int]:
        """The voicings that a voicing is changed from or to."""
        return [one if other == at else other for one, other in self.between if at in (one, other)]

    def strike_out(self) -> None:
        """Remove options that lose to a better one whatever the neighbours do (exact)."""
        changed = True
        while changed:
            changed = False
            for at in range(len(self.parts)):
                changed |= self._strike(at)

    def _strike(self, at: int) -> bool:
        options = self.open[at]
        if len(options) < 2:
            return False
        neighbours = self.neighbours(at)
        best = min(options, key=lambda option: (self.held[at][option], option))
        worst = self.held[at][best] + sum(
            max(self._pair(at, other, best, theirs) for theirs in self.open[other])
            for other in neighbours
        )
        kept = [one for one in options if one == best or self.held[at][one] < worst]
        kept = [one for one in kept if one == best or not self._loses(at, one, best, neighbours)]
        self.open[at] = kept
        return len(kept) < len(options)

    def _loses(self, at: int, one: int, best: int, neighbours: list[int]) -> bool:
        gain = self.held[at][one] - self.held[at][best]
        for other in neighbours:
            gain += min(
                self._pair(at, other, one, theirs) - self._pair(at, other, best, theirs)
                for theirs in self.open[other]
            )
        return gain > 1e-12 or (gain >= -1e-12 and one > best)

    def eliminate(self) -> list[int]:
        """Return the best option of every voicing, by eliminating voicings one after the other."""
        tables: list[tuple[tuple[int, ...], dict[tuple[int, ...], float]]] = [
            (
                pair,
                {
                    both: self.edge(*pair, *both)
                    for both in product(self.open[pair[0]], self.open[pair[1]])
                },
            )
            for pair in self.between
        ]
        trail: list[tuple[int, tuple[int, ...], dict[tuple[int, ...], int]]] = []
        left = set(range(len(self.parts)))
        while left:
            at = min(left, key=lambda one: (self._size(one, tables), one))
            left.discard(at)
            mine = [table for table in tables if at in table[0]]
            tables = [table for table in tables if at not in table[0]]
            scope = tuple(sorted({one for names, _ in mine for one in names} - {at}))
            costs, choice = self._minimise(at, scope, mine)
            tables.append((scope, costs))
            trail.append((at, scope, choice))
        chosen: dict[int, int] = {}
        for at, scope, choice in reversed(trail):
            chosen[at] = choice[tuple(chosen[one] for one in scope)]
        return [chosen[at] for at in range(len(self.parts))]

    def _size(
        self, at: int, tables: list[tuple[tuple[int, ...], dict[tuple[int, ...], float]]]
    ) -> int:
        scope = {one for names, _ in tables if at in names for one in names} | {at}
        return prod(len(self.open[one]) for one in scope)

    def _minimise(
        self,
        at: int,
        scope: tuple[int, ...],
        mine: list[tuple[tuple[int, ...], dict[tuple[int, ...], float]]],
    ) -> tuple[dict[tuple[int, ...], float], dict[tuple[int, ...], int]]:
        costs: dict[tuple[int, ...], float] = {}
        choice: dict[tuple[int, ...], int] = {}
        places = [
            tuple(scope.index(one) if one != at else -1 for one in names) for names, _ in mine
        ]
        for key in product(*(self.open[one] for one in scope)):
            best, taken = float("inf"), -1
            for option in self.open[at]:
                cost = self.held[at][option]
                for where, (_, table) in zip(places, mine, strict=True):
                    cost += table[tuple(option if one < 0 else key[one] for one in where)]
                if cost < best - 1e-12:
                    best, taken = cost, option
            costs[key], choice[key] = best, taken
        return costs, choice

    def plan_of(self, chosen: list[int]) -> SongPlan:
        """Return the plan of these options, with the parts of its cost."""
        changing: dict[tuple[Name, Name], float] = {}
        for step in self.steps:
            one, other = self.place[step.before], self.place[step.after]
            cost = change_cost(
                self.neck,
                self.voicings[one][chosen[one]],
                self.voicings[other][chosen[other]],
                step,
                self.skill,
            )
            key = (step.before, step.after)
            changing[key] = changing.get(key, 0.0) + cost
        taken = {part.name: part.options[at] for part, at in zip(self.parts, chosen, strict=True)}
        holding = {
            part.name: self.held[index][at]
            for index, (part, at) in enumerate(zip(self.parts, chosen, strict=True))
        }
        return SongPlan(taken, holding, changing)


def _holding(part: PlannedVoicing) -> list[float]:
    """Return what each option costs over the whole song, without the changes."""
    least = min(option.cost for option in part.options)
    extra = part.extra or (0.0,) * len(part.options)
    return [
        part.held * (option.cost - least + more)
        for option, more in zip(part.options, extra, strict=True)
    ]
