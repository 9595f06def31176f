"""Bars in a row on the axis of time: where each begins, how it swings, and the clock of all of them."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from fractions import Fraction

from fretloom.performance.events import PlayedBar, Settings
from fretloom.performance.playback.clock import Clock, tempos_in
from fretloom.performance.playback.swinging import SwungBar
from fretloom.trade.music.tempo import Tempo
from fretloom.values import frozen


@frozen(eq=False)
class LaidBars:
    """Bars one after another: their start positions and swings, the end of the last, and the clock."""

    starts: tuple[Fraction, ...]
    swings: tuple[SwungBar, ...]
    end: Fraction
    clock: Clock

    def bar_at(self, straight: Fraction) -> int:
        """Return which bar a position is in, from 0; what lies behind the end is in the last."""
        return max(0, bisect_right(self.starts, straight) - 1)

    def played(self, straight: Fraction, bar: int) -> Fraction:
        """Return where something is played that is written at a straight position in a bar."""
        return self.starts[bar] + self.swings[bar].at(straight - self.starts[bar])

    @property
    def seconds(self) -> Fraction:
        """How long all of them take."""
        return self.clock.seconds(self.end)


def lay(bars: Sequence[PlayedBar], settings: Settings, speed: Fraction = Fraction(1)) -> LaidBars:
    """Lay bars out in time, `speed` times as fast as written (more than 0)."""
    known: dict[int, SwungBar] = {}
    swings: list[SwungBar] = []
    starts: list[Fraction] = []
    tempos: list[tuple[Fraction, Fraction]] = []
    rates: dict[tuple[int, Tempo, Tempo | None], list[tuple[Fraction, Fraction]]] = {}
    end = Fraction(0)
    for played in bars:
        swing = known.get(played.bar.serial)
        if swing is None:
            swing = known[played.bar.serial] = SwungBar(played.bar, settings.swing)
        swings.append(swing)
        starts.append(end)
        key = (played.bar.serial, played.tempo, played.manner.tempo_to)
        if key not in rates:
            rates[key] = [(onset, rate * speed) for onset, rate in tempos_in(played, swing)]
        tempos += [(end + onset, rate) for onset, rate in rates[key]]
        end += played.bar.length
    usual = settings.tempo.quarters_per_minute * speed
    clock = Clock(tempos or [(Fraction(0), usual)])
    return LaidBars(tuple(starts), tuple(swings), end, clock)
