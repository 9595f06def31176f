"""How loud: the degrees, swells over several bars, accents, and the first of a bar."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from fretloom.performance.events import PlayedBar
from fretloom.trade.music.loudness import DYNAMICS
from fretloom.values import frozen

#: MIDI's velocity for each degree: 80 for mf, 16 a degree (common practice, no source).
DEGREES = {name: min(127, 16 * (place + 1)) for place, name in enumerate(DYNAMICS)}
#: Without any word a lesson is played moderately loud.
USUAL = DEGREES["mf"]
#: What an accent adds, and the first of a bar; a ghost note has this share (assumptions).
ACCENT, FIRST, GHOST = 24, 6, Fraction(1, 2)


@frozen
class BarLoudness:
    """From which velocity to which a bar goes, evenly over its length in quarter notes."""

    start: Fraction
    end: Fraction

    def at(self, share: Fraction) -> Fraction:
        """Return the velocity after a share (0 to 1) of the bar."""
        return (
            self.start if self.start == self.end else self.start + (self.end - self.start) * share
        )


def loudness_of(bars: Sequence[PlayedBar]) -> list[BarLoudness]:
    """Return how loud each bar is; a swell over several bars goes evenly over all of them."""
    found: list[BarLoudness] = []
    now = Fraction(USUAL)
    even = BarLoudness(now, now)
    place = 0
    while place < len(bars):
        manner = bars[place].manner
        if manner.dynamic:
            now = Fraction(DEGREES[manner.dynamic])
        last = _swell_end(bars, place) if manner.swell else None
        if last is None:
            if even.start != now:
                even = BarLoudness(now, now)
            found.append(even)
            place += 1
            continue
        to = bars[last].manner.dynamic_to
        after = Fraction(DEGREES[to]) if to else now
        lengths = [played.bar.length for played in bars[place : last + 1]]
        total, done = sum(lengths), Fraction(0)
        for length in lengths:
            begin, done = done, done + length
            change = after - now
            found.append(BarLoudness(now + change * begin / total, now + change * done / total))
        now, place = after, last + 1
    return found


def _swell_end(bars: Sequence[PlayedBar], first: int) -> int | None:
    """Return the bar with which a swell ends that begins in bar `first`; None if it is cut off before."""
    for place in range(first, len(bars)):
        manner = bars[place].manner
        if manner.swell != bars[first].manner.swell or (place > first and bars[place].first):
            return None
        if manner.dynamic_to:
            return place
    return None


def struck(velocity: Fraction, accent: bool, first: bool, ghost: bool) -> int:
    """Return the loudness of one stroke, 1 to 127, from that of its place in the bar."""
    value = velocity + (ACCENT if accent else FIRST if first else 0)
    return max(1, min(127, round(value * GHOST if ghost else value)))
