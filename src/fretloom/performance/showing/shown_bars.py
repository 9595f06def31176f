"""What a line of a step shows, as bars to be played: a shape rolled, a change, a pattern, bars, the song."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from itertools import pairwise

from fretloom.notation.model.step import Show
from fretloom.performance.events import PlayedBar, TimedBar, TimedNote, TimedVoicing
from fretloom.performance.manner import NoteTechnique
from fretloom.performance.reading import Reading
from fretloom.performance.showing.patterns_alone import FirstOvers, patterns_alone
from fretloom.performance.sounding.strings import sounding
from fretloom.trade.guitar.voicing import Voicing


def shown_bars(reading: Reading, show: Show) -> tuple[PlayedBar, ...]:
    """Return the bars that are played for what a line shows; none where the lesson does not have it.

    A section is played as it is the first time that most of it comes. A change is played as the song has it first:
    the bar before it and the bar that it leads into, or the one bar that it is in.
    """
    timeline = reading.timeline
    match show.kind:
        case "form":
            return timeline.bars
        case "voicing":
            return _shape(reading, timeline.voicings.get(show.name))
        case "change":
            return _change(timeline.bars, show.name, show.over)
        case "pattern":
            return _pattern(reading, show.name, show.over)
    bars = fullest_playings(timeline.bars).get(show.name, ())
    if show.first is None or show.last is None:
        return bars
    return tuple(one for one in bars if show.first <= one.place <= show.last)


def fullest_playings(bars: Iterable[PlayedBar]) -> dict[str, tuple[PlayedBar, ...]]:
    """Return for each section the first of its playings that has most of its bars."""
    playings: dict[tuple[str, int, int], list[PlayedBar]] = {}
    for one in bars:
        playings.setdefault((one.section, one.entry, one.playing), []).append(one)
    found: dict[str, tuple[PlayedBar, ...]] = {}
    for (section, _, _), playing in playings.items():
        if len(playing) > len(found.get(section, ())):
            found[section] = tuple(playing)
    return found


def _change(bars: Sequence[PlayedBar], before: str, after: str) -> tuple[PlayedBar, ...]:
    for one in bars:
        names = [taken.voicing.name for taken in one.bar.voicings]
        if (before, after) in pairwise(names):
            return (one,)
    for one, other in pairwise(bars):
        if not one.bar.voicings or not other.bar.voicings:
            continue
        if (one.bar.voicings[-1].voicing.name, other.bar.voicings[0].voicing.name) == (
            before,
            after,
        ):
            return (one, other)
    return ()


def _pattern(reading: Reading, pattern: str, over: str) -> tuple[PlayedBar, ...]:
    over = over or FirstOvers(reading.timeline).of(pattern)
    alone = patterns_alone(reading, [(pattern, over)]).get((pattern, over), ())
    return _alone(reading, alone)


def _alone(reading: Reading, bars: Sequence[TimedBar]) -> tuple[PlayedBar, ...]:
    """Return bars that are not in the song, at the tempo of the lesson."""
    tempo = reading.timeline.settings.tempo
    return tuple(
        PlayedBar(
            index=number, number=number, section="", title="", entry=1, playing=1, written=None,
            first=number == 1, tempo=tempo, bar=bar, place=number,
        )
        for number, bar in enumerate(bars, start=1)
    )  # fmt: skip


def _shape(reading: Reading, voicing: Voicing | None) -> tuple[PlayedBar, ...]:
    """Return a bar in which a shape is rolled slowly, from its lowest string on."""
    settings = reading.timeline.settings
    if voicing is None or voicing.silent or len(voicing.frets) != settings.tuning.strings:
        return ()
    length = settings.meter.length
    strings = [
        (len(voicing.frets) - place, fret)
        for place, fret in enumerate(voicing.frets)
        if fret is not None
    ]
    notes = tuple(
        TimedNote(
            onset=Fraction(0),
            length=length,
            ring=length,
            string=string,
            fret=fret,
            finger="p",
            midi=sounding(settings, string, fret),
            order=order,
            gesture=0,
            technique=NoteTechnique(slow=True),
        )
        for order, (string, fret) in enumerate(strings)
    )
    taken = TimedVoicing(onset=Fraction(0), voicing=voicing)
    bar = TimedBar(meter=settings.meter, length=length, voicings=(taken,), notes=notes)
    return _alone(reading, (bar,))
