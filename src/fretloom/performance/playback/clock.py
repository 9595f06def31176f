"""Tempo: positions in quarter notes to seconds, exactly."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from itertools import pairwise

from fretloom.performance.events import PlayedBar, TimedBar
from fretloom.performance.playback.swinging import SwungBar
from fretloom.values import frozen

#: A tempo that changes evenly does so in steps of this length, in quarter notes (a sixteenth), each with the tempo
#: of its middle: so every time is exact, and what has one tempo at a time (MIDI) says the same.
STEP = Fraction(1, 4)
#: The beat on which a fermata stands lasts this many times as long (common practice, no source).
FERMATA = 2


@frozen
class TempoSpan:
    """From position `start`, which is at `seconds`, `quarters` quarter notes a minute."""

    start: Fraction
    seconds: Fraction
    quarters: Fraction


class Clock:
    """Turns positions into seconds. `spans` are in order, the first from position 0; there is one at least."""

    def __init__(self, tempos: Iterable[tuple[Fraction, Fraction]]) -> None:
        """Take the tempos in order: from which position, and how many quarter notes a minute."""
        spans: list[TempoSpan] = []
        for start, quarters in tempos:
            if not spans:
                spans.append(TempoSpan(start, Fraction(0), quarters))
                continue
            last = spans[-1]
            if quarters != last.quarters:
                seconds = last.seconds + (start - last.start) * 60 / last.quarters
                spans.append(TempoSpan(start, seconds, quarters))
        self.spans = tuple(spans)
        self._starts = [span.start for span in spans]

    def span_at(self, position: Fraction) -> TempoSpan:
        """Return the tempo in force at a position."""
        return self.spans[max(0, bisect_right(self._starts, position) - 1)]

    def seconds(self, position: Fraction) -> Fraction:
        """Return when a position comes, in seconds from position 0."""
        span = self.span_at(position)
        return span.seconds + (position - span.start) * 60 / span.quarters

    def lasting(self, position: Fraction, seconds: Fraction) -> Fraction:
        """Return how many quarter notes a time is at the tempo of a position."""
        return seconds * self.span_at(position).quarters / 60


def tempos_in(played: PlayedBar, swing: SwungBar) -> Iterator[tuple[Fraction, Fraction]]:
    """Yield from where in a bar how many quarter notes a minute are played.

    Free time is played at the tempo in which it stands.
    """
    now, to, length = played.tempo.quarters_per_minute, played.manner.tempo_to, played.bar.length
    wait = _wait(played.bar, swing)
    if to is None and wait is None:
        yield Fraction(0), now
        return
    after = now if to is None else to.quarters_per_minute
    edges = {Fraction(0), *(wait or ())} - {length}
    if after != now:
        edges.update(STEP * place for place in range(-(-length // STEP)))
    ordered = [*sorted(edges), length]
    for one, other in pairwise(ordered):
        middle = now + (after - now) * (one + other) / 2 / length
        waits = wait is not None and wait[0] <= one < wait[1]
        yield one, middle / FERMATA if waits else middle


def _wait(bar: TimedBar, swing: SwungBar) -> tuple[Fraction, Fraction] | None:
    """Return from where to where in a bar the beat waits: one beat, or up to what sounds next."""
    if bar.fermata is None:
        return None
    start = swing.at(bar.fermata)
    ends = [bar.length, bar.fermata + _beat_at(bar, bar.start + bar.fermata)]
    ends += [swing.at(note.onset) for note in bar.notes if note.onset > bar.fermata]
    end = min(ends)
    return (start, end) if end > start else None


def _beat_at(bar: TimedBar, position: Fraction) -> Fraction:
    starts = bar.meter.beat_starts
    place = min(bisect_right(starts, position), len(bar.meter.beats)) - 1
    return bar.meter.beats[max(0, place)]


def beats_of(bars: Sequence[PlayedBar]) -> list[float]:
    """Return for each bar how many seconds a quarter note lasts at its start."""
    seconds: list[float] = []
    before = None
    for played in bars:
        if before is None or played.tempo is not before:
            before = played.tempo
            beat = 60 / float(before.quarters_per_minute)
        seconds.append(beat)
    return seconds
