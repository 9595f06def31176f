"""Which shapes a lesson takes, each once, in order of appearance."""

from __future__ import annotations

from fretloom.performance.events import Timeline
from fretloom.performance.showing.shape_names import shape_names
from fretloom.performance.showing.shape_use import ShapeUse, shape_uses
from fretloom.trade.guitar.voicing import Voicing
from fretloom.values import frozen


@frozen
class TakenShape:
    """A voicing that is played, its name as students read it, and its use in the song."""

    voicing: Voicing
    name: str
    use: ShapeUse


def taken_shapes(timeline: Timeline) -> tuple[TakenShape, ...]:
    """Return the voicings that are played and have frets."""
    played = {
        taken.voicing.name: taken.voicing
        for _, bar in timeline.distinct_bars()
        for taken in bar.voicings
    }
    names = shape_names(timeline)
    uses = shape_uses(timeline)
    return tuple(
        TakenShape(voicing, names[name], uses[name])
        for name, voicing in played.items()
        if any(fret is not None for fret in voicing.frets)
    )
