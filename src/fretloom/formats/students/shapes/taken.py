"""The shapes that a sheet shows, and those that it does not."""

from __future__ import annotations

from fretloom.errors import FretloomError
from fretloom.formats.beside import not_there
from fretloom.formats.shape import LeftOut
from fretloom.performance.events import Timeline
from fretloom.performance.showing.taken_shapes import TakenShape, taken_shapes


def taken_in(timeline: Timeline) -> tuple[TakenShape, ...]:
    """Return the voicings that are played and have frets.

    Raises:
        FretloomError: there are none.
    """
    found = taken_shapes(timeline)
    if not found:
        raise FretloomError(
            "no voicing with frets is played in the lesson, so there is no shape to draw"
        )
    return found


def without_shape(timeline: Timeline) -> tuple[LeftOut, ...]:
    """Return the voicings of the lesson that have no diagram, as they are never played."""
    played = {one.voicing.name for one in taken_in(timeline)}
    unused = [
        voicing.name for voicing in timeline.voicings.values()
        if voicing.name not in played and any(fret is not None for fret in voicing.frets)
    ]  # fmt: skip
    return tuple(not_there("shape", unused, "no bar takes"))
