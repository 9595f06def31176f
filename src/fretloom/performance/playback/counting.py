"""What is counted aloud and clicked: the counts of bars, and bars that are counted in."""

from __future__ import annotations

from fractions import Fraction

from fretloom.performance.events import TimedBar
from fretloom.trade.music.meter import Meter

#: A bar that is shorter than this, in seconds, is counted in twice.
SHORT = 2


def counts_of(bar: TimedBar, start: Fraction) -> tuple[tuple[Fraction, int], ...]:
    """Return the beats of a bar that begins at position `start`: 0 the first, 1 one that begins a group, 2 others.

    A pickup has those of the end of a bar.
    """
    return tuple(
        (start + position - bar.start, strength)
        for position, strength in clicks(bar.meter)
        if bar.start <= position < bar.start + bar.length
    )


def clicks(meter: Meter) -> list[tuple[Fraction, int]]:
    """Return the beats of a full bar, from its start, and how strong each is.

    Beats of unequal length, as in 2+2+3/8, are too far apart to keep time by: their counts are clicked between.
    """
    uneven = len(set(meter.beats)) > 1
    if not uneven:
        return [(start, 0 if not start else 2) for start in meter.beat_starts[:-1]]
    count = meter.count_length
    starts = set(meter.beat_starts)
    places = [count * number for number in range(meter.count_total)]
    return [(place, 0 if not place else 1 if place in starts else 2) for place in places]
