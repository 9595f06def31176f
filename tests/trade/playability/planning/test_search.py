"""The search for options of least cost, on graphs of numbers."""

from __future__ import annotations

from itertools import combinations, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fretloom.trade.playability.planning.graph import Graph
from fretloom.trade.playability.planning.search import (
    cost,
    descend,
    eliminate,
    elimination_order,
)

COSTS = st.floats(0, 9, allow_nan=False)


@st.composite
def _graphs(draw: st.DrawFn, voicings: int = 5) -> tuple[list[list[float]], dict]:
    """Draw costs of options, and costs of pairs of options for some pairs of voicings."""
    sizes = draw(st.lists(st.integers(1, 3), min_size=voicings, max_size=voicings))
    held = [draw(st.lists(COSTS, min_size=size, max_size=size)) for size in sizes]
    pairs = draw(st.sets(st.sampled_from(list(combinations(range(voicings), 2)))))
    return held, {
        (one, other, first, second): draw(COSTS)
        for one, other in sorted(pairs)
        for first in range(sizes[one])
        for second in range(sizes[other])
    }


def _graph(drawn: tuple[list[list[float]], dict], most: int = 10_000) -> Graph:
    held, costs = drawn
    pairs = {(one, other) for one, other, _, _ in costs}
    return Graph(held, sorted(pairs), lambda *key: costs[key], most)


@settings(max_examples=60, deadline=None)
@given(_graphs())
def test_elimination_finds_the_least_and_descent_is_never_worse_than_its_start(drawn) -> None:
    """Compared with trying every combination, and with the first option of every voicing."""
    every = _graph(drawn)
    combinations_of_all = product(*(range(len(costs)) for costs in drawn[0]))
    least = min(cost(every, list(chosen)) for chosen in combinations_of_all)
    graph = _graph(drawn)
    graph.strike_out()
    order = elimination_order(graph, 10_000)
    assert order is not None
    assert cost(every, eliminate(graph, order)) == pytest.approx(least)
    found = cost(every, descend(_graph(drawn)))
    assert least - 1e-9 <= found <= cost(every, [0] * len(drawn[0])) + 1e-9


def test_with_very_many_pairs_only_the_likeliest_fingerings_are_compared() -> None:
    """The first option of every voicing stays, and the plan does not claim to be sure."""
    held = [[0.0, 1.0, 2.0]] * 10
    pairs = list(combinations(range(10), 2))
    graph = Graph(held, pairs, lambda *_: 0.0, 4 * len(pairs))
    assert graph.open == [[0, 1]] * 10
    assert not graph.whole
    assert Graph(held, pairs, lambda *_: 0.0, 0).open == [[0]] * 10
    assert Graph(held, pairs, lambda *_: 0.0, 9 * len(pairs)).whole


def test_what_elimination_would_look_at_is_counted_before() -> None:
    """Of a triangle with two options each, eight combinations, then four, then two."""
    graph = Graph([[0.0, 0.0]] * 3, [(0, 1), (0, 2), (1, 2)], lambda *_: 0.0, 100)
    assert elimination_order(graph, 14) == [0, 1, 2]
    assert elimination_order(graph, 13) is None
    assert graph.steps == 0
