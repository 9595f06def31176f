"""How long a practice path takes. Run it by itself: `python tests/benchmarks/practice_speed.py`.

Prints the processor time of the path of each example that is read already, with its steps and without, the page and
the JSON of it, and the longest plan that can be asked for. A command, never a test.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from pathlib import Path

from attrs import evolve

from fretloom.api import as_json, as_text, examine, load
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.model.step import Step
from fretloom.practising.path import practice_path
from fretloom.practising.plan import PracticeWish

EXAMPLES = Path(__file__).parents[2] / "examples"


def _milliseconds(call: Callable[[], object], times: int = 7) -> float:
    taken = []
    for _ in range(times):
        start = time.process_time()
        call()
        taken.append((time.process_time() - start) * 1000)
    return statistics.median(taken)


def _without_steps(lesson: Lesson) -> Lesson:
    return evolve(lesson, blocks=tuple(one for one in lesson.blocks if not isinstance(one, Step)))


def main() -> None:
    """Print all of it."""
    for file in sorted(EXAMPLES.glob("*.lesson")):
        lesson = load(file)
        readings = [examine(one).reading for one in (lesson, _without_steps(lesson))]
        with_steps, found = (_milliseconds(lambda one=one: practice_path(one)) for one in readings)
        path = practice_path(readings[0])
        said, data = (
            _milliseconds(lambda path=path: as_text(path)),
            _milliseconds(lambda path=path: as_json(path)),
        )
        print(
            f"{file.stem:24} steps {with_steps:5.1f} ms, found {found:5.1f} ms, "
            f"page {said:4.1f} ms, JSON {data:4.1f} ms"
        )
    wish = PracticeWish(minutes=120, days=60)
    reading = examine(load(EXAMPLES / "tuesday-rag.lesson")).reading
    print(f"60 days of two hours: {_milliseconds(lambda: practice_path(reading, wish), 3):.0f} ms")


if __name__ == "__main__":
    main()
