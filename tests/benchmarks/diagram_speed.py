"""How long a diagram takes: `python tests/benchmarks/diagram_speed.py`. A command, never a test.

Prints medians, in milliseconds, of drawing a shape, a change, a neck and a ladder, and of writing a shape as SVG.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from pathlib import Path

import fretloom
from fretloom.api import examine
from fretloom.engraving.drawn.change_diagram import change_diagram
from fretloom.engraving.drawn.neck_picture import neck_picture
from fretloom.engraving.drawn.shape_diagram import DiagramLook, shape_diagram
from fretloom.engraving.drawn.stairs import stairs
from fretloom.formats.students.svg import document
from fretloom.formats.students.telling.hints import shape_hints
from fretloom.performance.showing.change_use import used_changes
from fretloom.performance.showing.taken_shapes import taken_shapes

EXAMPLE = Path(__file__).parents[2] / "examples" / "kiln-lane-shuffle.lesson"


def median(run: Callable[[], object], times: int = 500) -> float:
    """Return the median of how long something takes, in milliseconds."""
    spent = []
    for _ in range(times):
        start = time.perf_counter()
        run()
        spent.append((time.perf_counter() - start) * 1000)
    return statistics.median(spent)


def main() -> None:
    """Print how long each picture takes."""
    timeline = examine(fretloom.load(EXAMPLE)).reading.timeline
    shapes, settings, look = taken_shapes(timeline), timeline.settings, DiagramLook()
    named = {one.voicing.name: one for one in shapes}
    made = used_changes(timeline)[0]
    before, after = named[made.before.name], named[made.after.name]
    b7 = named["B7"]

    def shape() -> object:
        return shape_diagram(b7.voicing, b7.use, settings.tuning, look, b7.name)

    picture = shape_diagram(b7.voicing, b7.use, settings.tuning, look, b7.name)
    every: dict[str, Callable[[], object]] = {
        "a shape": shape,
        "a change": lambda: change_diagram(before, after, made.change, settings.tuning, look),
        "a neck": lambda: neck_picture(settings.capo, settings.tuning),
        "a ladder": lambda: stairs([60, 72, 84, 96]),
        "the hints of a shape": lambda: shape_hints(b7, "D7", shapes),
        "a shape as SVG": lambda: document(picture),
    }
    for what, run in every.items():
        print(f"{what}: {median(run):.2f} ms")


if __name__ == "__main__":
    main()
