"""What each level of player can be asked to do: the limits by which a lesson is judged and eased."""

from __future__ import annotations

from math import inf

from fretloom.trade.playability.moving.haste import TOO_FAST
from fretloom.values import frozen

LEVELS = ("beginner", "intermediate", "advanced")


@frozen(kw_only=True)
class Reach:
    """What lies within a level; all figures are assumptions, none of them measured.

    Args:
        points: the greatest effort of a voicing, in the points of `effort`.
        barre: how many strings the index finger may lie over at once, at most.
        thumb: whether the thumb may fret over the neck. hops: whether a finger may hop to another
            string within a voicing.
        pace: the shortest time from one stroke of the picking hand to the next, in seconds.
        between: how many strokes of the fingers a bar may have between the counts while the thumb
            walks (plucks on more than half of them). together: so many of these and of pinches.
        pressure: how pressed a change may be, as `Haste` has it.
    """

    level: str
    points: float = inf
    barre: int = 12
    thumb: bool = True
    hops: bool = True
    pace: float = 0.0
    between: float = inf
    together: float = inf
    pressure: float


#: An effort of 3.0 is the upper end of "3 of 5": F over two strings is within it, over six it is not. A
#: beginner plays eighths up to a tempo of 100, an intermediate player sixteenths. Two plucks between
#: the counts are what first patterns with a walking thumb have (common practice, no source).
REACHES = {
    "beginner": Reach(
        level="beginner",
        points=3.0,
        barre=3,
        thumb=False,
        hops=False,
        pace=0.30,
        between=2,
        together=3,
        pressure=TOO_FAST["beginner"],
    ),
    "intermediate": Reach(
        level="intermediate", points=4.5, pace=0.15, pressure=TOO_FAST["intermediate"]
    ),
    "advanced": Reach(level="advanced", pressure=TOO_FAST["advanced"]),
}
