"""The best fingering for a whole song: every voicing's fingers chosen with all its changes in view.

Each voicing has one fingering throughout, so that the student learns one. What is minimised is

    sum over voicings  of  times held * cost of the fingering (beyond the best for its frets)
  + sum over changes   of  times made * 10 * seconds * (1 + seconds / seconds there are)

over all given fingerings. `planning` looks for the minimum: fingerings that cannot be part of it are
removed first; then it is exact where the changes do not connect too many voicings with one another,
and the plan says whether it was.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence

from fretloom.limits import LIMITS
from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.playability.moving.changes import change
from fretloom.trade.playability.moving.skills import INTERMEDIATE, Skill
from fretloom.trade.playability.planning.graph import Graph
from fretloom.trade.playability.planning.search import (
    cost,
    descend,
    eliminate,
    elimination_order,
)
from fretloom.trade.playability.shape import Fretted
from fretloom.trade.playability.solver import Fingering
from fretloom.values import frozen

#: What a second of changing weighs against the cost of a fingering: so much that G between two Cs is
#: taken with fingers 3 2 4, as teachers advise (common practice, no source), but no odder one.
SECOND = 10.0
#: Fingerings worth considering for a song: so much beyond the best at most, and so many at most.
WITHIN, MOST = 7.0, 8
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
    """The fingerings of a song, their cost, and its parts.

    `holding` is the cost by voicing, `changing` by change (before, after), over the whole song.
    `sure` says that no other fingerings cost less; without it they are what a search found. `steps`
    is how many choices were compared.
    """

    fingerings: Mapping[Name, Fingering]
    holding: Mapping[Name, float]
    changing: Mapping[tuple[Name, Name], float]
    sure: bool = False
    steps: int = 0

    @property
    def cost(self) -> float:
        """The cost of the whole song."""
        return sum(self.holding.values()) + sum(self.changing.values())


def likely(options: tuple[Fingering, ...]) -> tuple[Fingering, ...]:
    """Return the fingerings that a player would consider, least cost first.

    What speaks for or against them besides is in `habits`.
    """
    return tuple(one for one in options[:MOST] if one.cost <= options[0].cost + WITHIN)


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

    Where changes connect too many voicings to be sure of the least (`Limits.pair_choices`,
    `Limits.choices`), they are the best that a search finds, and never cost more than those of
    `plan_one_by_one`. Every part needs at least one option. Changes to the same voicing cost
    nothing.
    """
    song = _Weighing(neck, parts, steps, skill)
    graph = Graph(song.held, song.between, song.pair_cost, LIMITS.pair_choices)
    graph.strike_out()
    order = elimination_order(graph, LIMITS.choices)
    chosen = descend(graph) if order is None else eliminate(graph, order)
    sure = order is not None and graph.whole
    greedy = [0] * len(parts)
    if not sure and cost(graph, greedy) < cost(graph, chosen):
        chosen = greedy
    return song.plan_of(chosen, sure, graph.steps)


def plan_one_by_one(
    neck: Neck,
    parts: Sequence[PlannedVoicing],
    steps: Sequence[SongChange],
    skill: Skill = INTERMEDIATE,
) -> SongPlan:
    """Return the plan that takes the first option of every voicing, for comparison."""
    return _Weighing(neck, parts, steps, skill).plan_of([0] * len(parts), False, 0)


class _Weighing:
    """The voicings and changes of a song, by the numbers that the search knows them by."""

    def __init__(
        self, neck: Neck, parts: Sequence[PlannedVoicing], steps: Sequence[SongChange], skill: Skill
    ) -> None:
        self.neck, self.parts, self.skill = neck, parts, skill
        self.steps = [step for step in steps if step.before != step.after]
        self.place = {part.name: at for at, part in enumerate(parts)}
        self.between: dict[tuple[int, int], list[SongChange]] = {}
        for step in self.steps:
            key = (self.place[step.before], self.place[step.after])
            self.between.setdefault((min(key), max(key)), []).append(step)
        self.held = [_holding(part) for part in parts]
        self.voicings = [
            [Fretted(part.frets, option.fingers) for option in part.options] for part in parts
        ]

    def pair_cost(self, one: int, other: int, first: int, second: int) -> float:
        """What all changes between two voicings cost with these options."""
        fretted = {one: self.voicings[one][first], other: self.voicings[other][second]}
        return sum(
            change_cost(
                self.neck,
                fretted[self.place[step.before]],
                fretted[self.place[step.after]],
                step,
                self.skill,
            )
            for step in self.between[one, other]
        )

    def plan_of(self, chosen: Sequence[int], sure: bool, steps: int) -> SongPlan:
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
        holding = {part.name: self.held[at][chosen[at]] for at, part in enumerate(self.parts)}
        return SongPlan(taken, holding, changing, sure, steps)


def _holding(part: PlannedVoicing) -> list[float]:
    """Return what each option costs over the whole song, without the changes."""
    least = min(option.cost for option in part.options)
    extra = part.extra or (0.0,) * len(part.options)
    return [
        part.held * (option.cost - least + more)
        for option, more in zip(part.options, extra, strict=True)
    ]
