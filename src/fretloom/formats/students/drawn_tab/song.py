"""The song in the order of its form: each section once, and later only what is different.

What is the same and what is new is decided by the road, so that both agree.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from attrs import evolve

from fretloom.characters import nothing_hidden
from fretloom.engraving.drawn.tab.making.strip_bars import of_played, of_section
from fretloom.engraving.drawn.tab.values import StripBar
from fretloom.formats.students.telling.road import RoadBlock, road_of
from fretloom.performance.events import PlayedBar, TimedBar, Timeline, WrittenSection
from fretloom.performance.showing.looks import BarLooks
from fretloom.performance.showing.shape_names import shape_names
from fretloom.text import listed
from fretloom.trade.phrases.table import say
from fretloom.values import frozen


@frozen
class SongPart:
    """A part of the song as a student finds it: a title, words beside it, and its bars, none if it is as before."""

    title: str
    words: str
    bars: tuple[StripBar, ...]


_Playing = Sequence[PlayedBar]


def song_parts(timeline: Timeline) -> tuple[SongPart, ...]:
    """Return the parts of the song in the order in which they are played."""
    parts = list(_SongInParts(timeline).parts())
    if parts and parts[-1].bars:
        *before, last = parts[-1].bars
        parts[-1] = evolve(parts[-1], bars=(*before, evolve(last, closes="song")))
    return tuple(parts)


class _SongInParts:
    def __init__(self, timeline: Timeline) -> None:
        self._timeline = timeline
        self._names = shape_names(timeline)
        self._sections = {section.name: section for section in timeline.sections}
        self._looks = BarLooks()

    def parts(self) -> Iterator[SongPart]:
        groups = groupby(self._timeline.bars, lambda one: (one.entry, one.playing))
        playings = [list(group) for _, group in groups]
        at, before = 0, None
        for block in road_of(self._timeline):
            playing = playings[at]
            whole = not block.played_before
            yield self._first(block, playing, before) if whole else self._later(block, playing)
            at += block.times
            before = playings[at - 1][-1].bar

    def _first(self, block: RoadBlock, playing: _Playing, before: TimedBar | None) -> SongPart:
        section = self._sections.get(block.section)
        if section is not None and self._as_written(section, playing):
            bars = of_section(section, self._names, before=before)
        else:
            bars = of_played(playing, self._names, before=before)
        return SongPart(block.title, self._asked(playing[0]), _closed(bars))

    def _asked(self, first: PlayedBar) -> str:
        """Return what the form asks of a first playing beside its bars: its tempo, its loudness."""
        if first.entry > len(self._timeline.form):
            return ""
        differences = self._timeline.form[first.entry - 1].differences
        words = [nothing_hidden(one.plain) for one in differences if one.plain and not one.of_bars]
        return _sentence(listed(words))

    def _later(self, block: RoadBlock, playing: _Playing) -> SongPart:
        """Return the bars of a later playing that are new; the hints say which."""
        new, at = list[int](), 0
        for cell in block.cells:
            new += range(at, at + cell.bars) if cell.new else ()
            at += cell.bars
        words = [block.size] if block.times > 1 else []
        words += block.hints
        if not new:
            words.append(say("road.as-before", count=block.bars))
        runs = [[place for _, place in run] for _, run in groupby(enumerate(new), _in_a_row)]
        # The road counts no pickups; one stands before the first bar where that is drawn.
        whole = [one for one in playing if one.bar.kind != "pickup"]
        bars = tuple(
            bar
            for run in runs
            for bar in of_played(
                [
                    *([] if run[0] else playing[: len(playing) - len(whole)]),
                    *(whole[place] for place in run),
                ],
                self._names,
                before=whole[run[0] - 1].bar if run[0] else None,
            )
        )
        return SongPart(block.title, " ".join(_sentence(one) for one in words), _closed(bars))

    def _as_written(self, section: WrittenSection, playing: _Playing) -> bool:
        """Whether a playing has all bars of its section as they are written."""
        if {one.written for one in playing} != set(range(1, len(section.bars) + 1)):
            return False
        return all(
            self._looks.of(section.bars[one.written - 1].bar) == self._looks.of(one.bar)
            for one in playing
            if one.written is not None
        )


def _in_a_row(one: tuple[int, int]) -> int:
    return one[1] - one[0]


def _sentence(words: str) -> str:
    return f"{words[:1].upper()}{words[1:].rstrip('.')}." if words else ""


def _closed(bars: Sequence[StripBar]) -> tuple[StripBar, ...]:
    if not bars:
        return ()
    return (*bars[:-1], evolve(bars[-1], closes="section"))
