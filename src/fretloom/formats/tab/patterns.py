"""The patterns that are played, each alone: over the voicing that it is first played over."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from attrs import evolve

from fretloom.formats.tab.drawing.bars import Sketcher
from fretloom.formats.tab.drawing.drawn import Drawn
from fretloom.formats.tab.text import clean
from fretloom.performance.events import TimedBar, Timeline
from fretloom.performance.reading import Reading
from fretloom.performance.showing.patterns_alone import patterns_alone
from fretloom.trade.phrases.table import say
from fretloom.values import frozen

#: So many patterns are shown alone: of more nobody learns each by itself.
MOST_ALONE = 24


@frozen
class PatternAlone:
    """A pattern by its name in the lesson, the voicing it is shown over, and its bars."""

    name: str
    over: str
    bars: tuple[TimedBar, ...]


def played_over(timeline: Timeline) -> dict[str, str]:
    """Return for each pattern that is played the voicing that comes first with it, in order of appearance."""
    found: dict[str, str] = {}
    for _, bar in timeline.distinct_bars():
        voicings = [one.voicing for one in bar.voicings if not one.voicing.silent]
        if bar.pattern and voicings:
            found.setdefault(bar.pattern, voicings[0].name)
    return found


def alone(reading: Reading) -> tuple[PatternAlone, ...]:
    """Return the patterns that are played, each alone; of very many the first."""
    pairs = list(played_over(reading.timeline).items())[:MOST_ALONE]
    bars = patterns_alone(reading, pairs)
    return tuple(PatternAlone(*pair, bars[pair]) for pair in pairs if pair in bars)


def drawn_alone(
    patterns: Iterable[PatternAlone], timeline: Timeline, sketcher: Sketcher
) -> list[Sequence[Drawn]]:
    """Return the bars of each pattern, with its name and the voicing over them."""
    found: list[Sequence[Drawn]] = []
    for one in patterns:
        shown = timeline.patterns.get(one.name)
        name = clean(shown.name if shown and shown.name else one.name)
        title = say("text-tab.alone", name=name, over=sketcher.names.get(one.over, clean(one.over)))
        found.append([evolve(bar, place=title) for bar in sketcher.alone(one.bars)])
    return found
