"""How much a page has to draw, counted before anything is drawn."""

from __future__ import annotations

from collections.abc import Collection

from fretloom.errors import FretloomError
from fretloom.formats.students.handout.parts.all_parts import Parts
from fretloom.limits import LIMITS
from fretloom.notation.model.step import Show
from fretloom.performance.events import TimedBar

#: A bar with more notes than this counts as several: they take most of the time.
_NOTES = 8


def refuse_too_much(parts: Parts, wanted: Collection[str], *, as_pdf: bool = False) -> None:
    """Make sure that a page is drawn in a few seconds.

    Raises:
        FretloomError: it is not; the message says what to do.
    """
    most = LIMITS.bars_in_a_handout_pdf if as_pdf else LIMITS.bars_in_a_handout
    drawn = drawn_in(parts, wanted)
    if drawn > most:
        what = "a PDF of a handout" if as_pdf else "a handout"
        or_print = ", or print the page from a browser" if as_pdf else ""
        raise FretloomError(
            f"{what} has room for {most} bars and other pictures, and this lesson would take {drawn}: "
            f"choose fewer parts (--parts shapes,picking){or_print}"
        )


def drawn_in(parts: Parts, wanted: Collection[str]) -> int:
    """Return how many bars some parts draw; every other picture is one, and a bar of many notes is several."""
    timeline, count = parts.reading.timeline, 0
    if "shapes" in wanted:
        count += len(timeline.voicings)
    if "picking" in wanted:
        count += len({one.bar.pattern for one in timeline.bars})
    if "steps" in wanted:
        shows = [line for step in parts.reading.material.steps for line in step.lines]
        count += sum(isinstance(one, Show) for one in shows)
    if "song" in wanted:
        count += sum(_weight(one.bar) for part in parts.song for one in part.bars)
    return count


def _weight(bar: TimedBar) -> int:
    return max(1, -(-len(bar.notes) // _NOTES))
