"""How fast hands are judged. Run it by itself: `python tests/benchmarks/hands_speed.py`.

Prints the time of the fingering solver for each voicing of the table, of the best fingering of a song
of 200 bars with 12 voicings, of the ranking of capos, and what the rules of hands add to a check of 60
bars.
"""

from __future__ import annotations

import random
import statistics
import sys
import time
from collections import Counter
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

import itertools

from expanding import expand
from voicing_table import shape, table

from fretloom.api import load, loads
from fretloom.arranging.find_capos import find_capos
from fretloom.rule_facts import RULES
from fretloom.rules import runner
from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.playability.reach import Hand
from fretloom.trade.playability.solver import _all_fingerings, fingerings
from fretloom.trade.playability.song import PlannedVoicing, SongChange, likely, plan

SHAPES = [
    "x32010",
    "320003",
    "022100",
    "x02210",
    "xx0232",
    "133211",
    "x24432",
    "x21202",
    "320001",
    "x02020",
    "xx0231",
    "244222",
]
LESSON = Path(__file__).parents[2] / "examples" / "kiln-lane-shuffle.lesson"


def _milliseconds(call: Callable[[], object], times: int = 7) -> float:
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        call()
        taken.append((time.perf_counter() - start) * 1000)
    return statistics.median(taken)


def solver() -> str:
    """Time the solver on every voicing once, nothing remembered of it beforehand."""
    neck, hand, taken = Neck(), Hand(), []
    for row in table():
        _all_fingerings.cache_clear()
        start = time.perf_counter()
        fingerings(row.frets, neck, hand)
        taken.append((time.perf_counter() - start) * 1000)
    taken.sort()
    mean, median = statistics.mean(taken), statistics.median(taken)
    return f"solver: mean {mean:.2f} ms, median {median:.2f}, 99th percentile {taken[len(taken) * 99 // 100]:.2f}"


def song() -> str:
    """Time the best fingering of 200 bars over 12 voicings in no order at all."""
    neck, hand, chance = Neck(), Hand(), random.Random(1)
    played = [chance.choice(SHAPES) for _ in range(200)]
    options = {name: likely(fingerings(shape(name), neck, hand)) for name in SHAPES}
    held = Counter(played)
    parts = [
        PlannedVoicing(name=name, frets=shape(name), options=options[name], held=held[name])
        for name in SHAPES
    ]
    made = Counter(itertools.pairwise(played))
    steps = [SongChange(before=a, after=b, times=n, window=0.6) for (a, b), n in made.items()]
    taken = _milliseconds(lambda: plan(neck, parts, steps), 1)
    return f"song of 200 bars, 12 voicings, {len(steps)} changes: {taken:.0f} ms"


def capos() -> str:
    """Time the ranking of all capos of an example."""
    lesson = load(LESSON)
    return f"capos: {_milliseconds(lambda: find_capos(lesson), 3):.0f} ms"


def check() -> str:
    """Time a check of 60 bars with and without the rules of hands."""
    text = LESSON.read_text("utf-8").replace("  verse\n", "  verse x5\n")
    bars = len(expand(loads(text)).timeline.bars)

    def run(rules: tuple[object, ...]) -> float:
        runner.RULES = rules  # type: ignore[assignment]
        return _milliseconds(lambda: runner.check(loads(text)), 15)

    others = tuple(rule for rule in RULES if rule.family != "hands")
    pairs = [(run(others), run(RULES)) for _ in range(5)]
    without, with_hands = (min(column) for column in zip(*pairs, strict=True))
    return f"check of {bars} bars: {without:.1f} ms, with hands {with_hands:.1f} ms (+{with_hands / without - 1:.0%})"


if __name__ == "__main__":
    for measure in (solver, song, capos, check):
        print(measure())
