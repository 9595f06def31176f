"""The options of least cost: by eliminating voicings where the graph allows, else by descent.

Elimination is dynamic programming over the graph of changes, fewest choices first (Bertelè and
Brioschi, "Nonserial Dynamic Programming", 1972, from memory); its tables grow with how densely the
changes connect, so their size is worked out first. Descent changes one voicing at a time for the
better until none is left: never worse than where it started, and not always the best there is.
"""

from __future__ import annotations

from itertools import product
from math import prod

from fretloom.trade.playability.planning.graph import Graph

_ALIKE = 1e-12
#: Passes over all voicings in a descent; most end after three or four.
_PASSES = 8

Scope = tuple[int, ...]
Table = tuple[Scope, dict[Scope, float]]


def elimination_order(graph: Graph, most: int) -> list[int] | None:
    """Return the order in which to eliminate, None if more than `most` combinations would be looked at."""
    near = [set(others) for others in graph.near]
    sizes = [len(options) for options in graph.open]
    left = set(range(len(near)))
    work = {at: _work(at, near, sizes) for at in left}
    order: list[int] = []
    total = 0
    while left:
        at = min(left, key=lambda one: (work[one], one))
        total += work[at]
        if total > most:
            return None
        left.discard(at)
        order.append(at)
        for other in near[at]:
            near[other] |= near[at]
            near[other] -= {at, other}
        for other in near[at]:
            work[other] = _work(other, near, sizes)
    return order


def _work(at: int, near: list[set[int]], sizes: list[int]) -> int:
    return sizes[at] * prod(sizes[one] for one in near[at])


def eliminate(graph: Graph, order: list[int]) -> list[int]:
    """Return the best option of every voicing."""
    tables: dict[int, list[Table]] = {at: [] for at in order}
    place = {at: number for number, at in enumerate(order)}
    for pair in graph.pairs:
        both = product(graph.open[pair[0]], graph.open[pair[1]])
        costs: dict[Scope, float] = {
            (one, other): graph.pair(*pair, one, other) for one, other in both
        }
        tables[min(pair, key=place.__getitem__)].append((pair, costs))
    trail: list[tuple[int, Scope, dict[Scope, int]]] = []
    for at in order:
        mine = tables.pop(at)
        scope = tuple(sorted({one for names, _ in mine for one in names} - {at}))
        least, choice = _minimise(graph, at, scope, mine)
        if scope:
            tables[min(scope, key=place.__getitem__)].append((scope, least))
        trail.append((at, scope, choice))
    chosen: dict[int, int] = {}
    for at, scope, choice in reversed(trail):
        chosen[at] = choice[tuple(chosen[one] for one in scope)]
    return [chosen[at] for at in range(len(order))]


def _minimise(
    graph: Graph, at: int, scope: Scope, mine: list[Table]
) -> tuple[dict[Scope, float], dict[Scope, int]]:
    costs: dict[Scope, float] = {}
    choice: dict[Scope, int] = {}
    places = [tuple(scope.index(one) if one != at else -1 for one in names) for names, _ in mine]
    for key in product(*(graph.open[one] for one in scope)):
        best, taken = float("inf"), -1
        for option in graph.open[at]:
            graph.steps += 1
            cost = graph.held[at][option]
            for where, (_, table) in zip(places, mine, strict=True):
                cost += table[tuple(option if one < 0 else key[one] for one in where)]
            if cost < best - _ALIKE:
                best, taken = cost, option
        costs[key], choice[key] = best, taken
    return costs, choice


def descend(graph: Graph) -> list[int]:
    """Return options that no single change makes cheaper: the better of two descents.

    One begins with the first option of every voicing, the other with voicings chosen one after the
    other, each for those before it.
    """
    greedy: list[int] = [options[0] for options in graph.open]
    grown = list(greedy)
    for at, options in enumerate(graph.open):
        before = [other for other in graph.near[at] if other < at]
        costs = {
            option: graph.held[at][option]
            + sum(graph.pair(at, other, option, grown[other]) for other in before)
            for option in options
        }
        grown[at] = min(options, key=lambda option: (costs[option], option))
    return min(
        (_descended(graph, start) for start in (greedy, grown)), key=lambda one: cost(graph, one)
    )


def _descended(graph: Graph, chosen: list[int]) -> list[int]:
    for _ in range(_PASSES):
        changed = False
        for at, options in enumerate(graph.open):
            if len(options) < 2:
                continue
            now = graph.around(at, chosen[at], chosen)
            for option in options:
                other = graph.around(at, option, chosen)
                if other < now - _ALIKE:
                    now, chosen[at], changed = other, option, True
        if not changed:
            break
    return chosen


def cost(graph: Graph, chosen: list[int]) -> float:
    """Return what all voicings and changes cost with these options."""
    holding = sum(graph.held[at][option] for at, option in enumerate(chosen))
    return holding + sum(
        graph.pair(one, other, chosen[one], chosen[other]) for one, other in graph.pairs
    )
