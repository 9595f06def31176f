"""Which shapes a lesson takes, each once, in order of appearance."""

from __future__ import annotations

from fretloom.errors import FretloomError
from fretloom.formats.beside import not_there
from fretloom.formats.shape import LeftOut
from fretloom.performance.events import Timeline
from fretloom.performance.printed_names import printed_names
from fretloom.performance.shape_use import ShapeUse, shape_uses
from fretloom.trade.guitar.voicing import Voicing
from fretloom.values import frozen


@frozen
class TakenShape:
    """A voicing that is played, its name as students read it, and its use in the song."""

    voicing: Voicing
    name: str
    use: ShapeUse


def taken_in(timeline: Timeline) -> list[TakenShape]:
    """Return the voicings that are played and have frets.

    Raises:
        FretloomError: there are none.
    """
    played = {
        taken.voicing.name: taken.voicing
        for _, bar in timeline.distinct_bars()
        for taken in bar.voicings
    }
    names = printed_names(list(played.values()))
    uses = shape_uses(timeline)
    found = [
        TakenShape(voicing, names[name], uses[name])
        for name, voicing in played.items()
        if any(fret is not None for fret in voicing.frets)
    ]
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
