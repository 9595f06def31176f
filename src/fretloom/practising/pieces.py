"""What is practised: a shape, a change, a pattern alone, bars, the song; looked up for what a step shows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from attrs import evolve

from fretloom.characters import nothing_hidden
from fretloom.notation.model.step import Show
from fretloom.performance.events import PlayedBar, TimedBar
from fretloom.performance.reading import Reading
from fretloom.performance.showing.patterns_alone import (
    FirstOvers,
    PatternOver,
    patterns_alone,
)
from fretloom.performance.showing.shape_names import signed_names
from fretloom.performance.showing.shown_bars import fullest_playings
from fretloom.practising.elements import Hands
from fretloom.practising.novelty import NewThing, Things
from fretloom.practising.tempos import Comfort, Tempi
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.phrases.table import say
from fretloom.values import frozen

#: Bars that are played one after the other, and others of the same piece.
Runs = tuple[tuple[TimedBar, ...], ...]


@frozen(kw_only=True)
class PracticePiece:
    """Something to practise.

    Args:
        show: what it is, as a line of a step shows it.
        hands: which of its notes are played.
        where: the place in words: `Verse, bars 5 to 8`.
        asks: all it asks for, in order of appearance.
        pace: where it is at ease and where it breaks, in quarter notes a minute.
        goal: the lesson's tempo for it, in quarter notes a minute.
        length: how long it is, in quarter notes; 0 for a shape.
    """

    show: Show
    hands: Hands = "both"
    where: str
    asks: tuple[NewThing, ...]
    pace: Comfort
    goal: Fraction
    length: Fraction = Fraction(0)


class Repertory:
    """Looks up the pieces of one lesson."""

    def __init__(self, reading: Reading, level: str, steps: int) -> None:
        self.reading, timeline = reading, reading.timeline
        self.names = signed_names(timeline)
        self.things = Things(timeline, self.names)
        self.tempi = Tempi(timeline, level, steps)
        self.sections = {one.name: one for one in timeline.sections}
        self._known: dict[tuple[object, ...], PracticePiece | None] = {}
        self._alone: dict[PatternOver, tuple[TimedBar, ...]] = {}
        self.tempi.of_bars(
            [one.bar for one in timeline.bars]
        )  # What a change has to be in time for.
        self._overs = FirstOvers(timeline)
        self._playings = fullest_playings(timeline.bars)

    def prepare(self, patterns: Iterable[PatternOver]) -> None:
        """Lay out patterns alone, all at once, which takes less time than one by one."""
        missing = [one for one in patterns if one not in self._alone]
        if missing:
            self._alone |= dict.fromkeys(missing, ()) | patterns_alone(self.reading, missing)

    def prepare_shows(self, shows: Iterable[Show]) -> None:
        """Lay out the patterns that lines show."""
        self.prepare(
            (one.name, one.over or self._overs.of(one.name))
            for one in shows
            if one.kind == "pattern"
        )

    def of(self, show: Show, hands: Hands = "both") -> PracticePiece | None:
        """Return the piece that a line shows; None where the lesson does not have it."""
        key = (show.kind, show.name, show.over, show.first, show.last, hands)
        if key not in self._known:
            self._known[key] = self._of(show, hands)
        piece = self._known[key]
        return piece if piece is None or piece.show == show else evolve(piece, show=show)

    def _of(self, show: Show, hands: Hands) -> PracticePiece | None:
        if show.kind == "voicing":
            return self._shape(show)
        if show.kind == "change":
            return self._change(show)
        if show.kind == "pattern":
            return self._pattern(show, hands)
        runs, where = self._runs(show)
        return self._of_bars(show, hands, runs, where)

    def voicing(self, name: str) -> Voicing | None:
        """Return a voicing of the lesson, None if it has none of this name."""
        return self.reading.timeline.voicings.get(name)

    def name(self, voicing: str) -> str:
        """Return what a student reads for a voicing."""
        return self.names.get(voicing, voicing)

    @property
    def _tempo(self) -> Fraction:
        return self.reading.timeline.settings.tempo.quarters_per_minute

    def _shape(self, show: Show) -> PracticePiece | None:
        voicing = self.voicing(show.name)
        if voicing is None:
            return None
        where = say("practice.shape", shape=self.name(show.name))
        asks = (*self.things.tuning(), *self.things.shape(voicing))
        return PracticePiece(show=show, where=where, asks=asks, pace=Comfort(), goal=self._tempo)

    def _change(self, show: Show) -> PracticePiece | None:
        before, after = self.voicing(show.name), self.voicing(show.over)
        if before is None or after is None:
            return None
        where = say("practice.change", before=self.name(show.name), after=self.name(show.over))
        shapes = (*self.things.shape(before), *self.things.shape(after))
        asks = tuple(dict.fromkeys((*shapes, *self.things.change(before, after))))
        pace = self.tempi.of_change(before, after)
        return PracticePiece(show=show, where=where, asks=asks, pace=pace, goal=self._tempo)

    def _pattern(self, show: Show, hands: Hands) -> PracticePiece | None:
        pair = (show.name, show.over or self._overs.of(show.name))
        self.prepare([pair])
        where = say(
            "practice.pattern", pattern=self.pattern_name(show.name), shape=self.name(pair[1])
        )
        bars = self._alone[pair]
        return self._of_bars(show, hands, (bars, (bars[-1], bars[0])) if bars else (), where)

    def pattern_name(self, name: str) -> str:
        """Return what a student reads for a pattern: its title, its name, or that it is the picking."""
        printed = self.reading.timeline.patterns.get(name)
        said = nothing_hidden((printed.name if printed else "") or name)
        return said[:1].upper() + said[1:]

    def section_title(self, name: str) -> str:
        """Return what a student reads for a section: its title, or its name with a capital."""
        section = self.sections.get(name)
        title = nothing_hidden((section.title if section else "") or name)
        return title[:1].upper() + title[1:]

    def _runs(self, show: Show) -> tuple[Runs, str]:
        """Return the bars that a line shows, as runs of those that are played one after the other."""
        if show.kind == "form":
            return (tuple(one.bar for one in self.reading.timeline.bars),), say("practice.whole")
        section = self.sections.get(show.name)
        if section is None:
            return (), ""
        title, playing = self.section_title(show.name), self._playings.get(show.name, ())
        if show.first is None or show.last is None:
            bars = tuple(one.bar for one in playing or section.bars)
            return ((bars,) if bars else ()), title
        runs = tuple(_runs_between(playing, show.first, show.last)) or (
            tuple(one.bar for one in section.bars if show.first <= one.number <= show.last),
        )
        if show.first == show.last:
            return runs, say("practice.one-bar", section=title, bar=show.first)
        return runs, say("practice.bars", section=title, first=show.first, last=show.last)

    def _of_bars(self, show: Show, hands: Hands, runs: Runs, where: str) -> PracticePiece | None:
        if not any(runs):
            return None
        asks: dict[NewThing, None] = {}
        pace = Comfort()
        for run in runs:
            asks |= dict.fromkeys(self.things.of_bars(run, hands))
            pace = pace.slower(self.tempi.of_bars(run, hands))
        playing = self._playings.get(show.name)
        goal = playing[0].tempo.quarters_per_minute if playing else self._tempo
        return PracticePiece(
            show=show,
            hands=hands,
            where=where if hands == "both" else say(f"practice.only-{hands}", where=where),
            asks=tuple(dict.fromkeys((*self.things.tuning(), *asks))),
            pace=pace,
            goal=self._tempo if show.kind == "pattern" else goal,
            length=sum((bar.length for bar in runs[0]), Fraction(0)),
        )


def _runs_between(
    playing: Sequence[PlayedBar], first: int, last: int
) -> Iterator[tuple[TimedBar, ...]]:
    """Yield bars of a playing by their numbers in the section, as runs without anything between."""
    run: list[TimedBar] = []
    for one in playing:
        if first <= one.place <= last:
            run.append(one.bar)
        elif run:
            yield tuple(run)
            run = []
    if run:
        yield tuple(run)
