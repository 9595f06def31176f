"""How fast the things of a script are played: slowly first, at a tempo of which all is at ease, then as in the song."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from fretloom.formats.students.telling.head import tempo_fact
from fretloom.notation.model.step import Show
from fretloom.performance.events import PlayedBar, TimedBar
from fretloom.performance.reading import Reading
from fretloom.practising.tempos import Tempi
from fretloom.trade.music.tempo import Tempo


class ScriptPace:
    """Finds tempos, in quarter notes a minute; where a step of the lesson begins slower, its start is taken."""

    def __init__(self, reading: Reading) -> None:
        self._settings = reading.timeline.settings
        self._tempi = Tempi(reading.timeline, self._settings.level, 4)
        self.usual = self._settings.tempo.quarters_per_minute
        self._starts: dict[tuple[str, str], Fraction] = {}
        for step in reading.material.steps:
            for line in step.lines:
                if isinstance(line, Show) and line.start is not None:
                    kind = "section" if line.kind == "bars" else line.kind
                    key = (kind, line.name)
                    self._starts[key] = min(line.start, self._starts.get(key, line.start))

    def slow(self, kind: str, name: str, bars: Sequence[TimedBar], goal: Fraction) -> Fraction:
        """Return the tempo at which something is shown first, never above its goal."""
        if (kind, name) in self._starts:
            return min(self._starts[kind, name], goal)
        found = self._tempi.tempos(self._tempi.of_bars(bars), goal)
        return min(found.start * found.unit, goal)

    def of(self, bars: Sequence[PlayedBar]) -> Fraction:
        """Return the tempo at which bars begin in the song."""
        return bars[0].tempo.quarters_per_minute

    def words(self, quarters: Fraction) -> str:
        """Say a tempo in the notes in which the lesson gives its own."""
        unit = self._settings.tempo.unit
        return tempo_fact(Tempo(quarters / unit, unit)).spoken
