"""What is counted aloud and clicked: the counts of bars, and bars that are counted in."""

from __future__ import annotations

from fractions import Fraction

from fretloom.performance.events import TimedBar
from fretloom.trade.music.meter import Meter

#: A bar of more counts has only its beats counted: so many can be said and heard apart.
MOST_COUNTS = 12
#: A bar that is shorter than this, in seconds, is counted in twice.
SHORT = 2


def counts_of(bar: TimedBar, start: Fraction) -> tuple[tuple[Fraction, int], ...]:
    """Return the counts of a bar that begins at position `start`: 0 the first, 1 one that begins a group, 2 others.

    A pickup has those of the end of a bar.
    """
    return tuple(
        (start + position - bar.start, strength)
        for position, strength in clicks(bar.meter)
        if bar.start <= position < bar.start + bar.length
    )


def clicks(meter: Meter) -> list[tuple[Fraction, int]]:
    """Return what is counted in a full bar, from its start, and how strong each count is.

    They are the counts that players say aloud (`Meter.counts_units`: in 6/8 six, of which two are beats); of more than
    `MOST_COUNTS` only the beats.
    """
    starts = set(meter.beat_starts[:-1])
    if not meter.counts_units or meter.count_total > MOST_COUNTS:
        return [(start, 0 if not start else 2) for start in meter.beat_starts[:-1]]
    places = [meter.count_length * number for number in range(meter.count_total)]
    return [(place, 0 if not place else 1 if place in starts else 2) for place in places]
