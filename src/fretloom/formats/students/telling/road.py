"""The road: the song as a row of named blocks, where only what is new is written again.

Names and bars are those by which all pages for students find a place (`place_words`).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import groupby

from attrs import evolve

from fretloom.characters import nothing_hidden
from fretloom.notation.model.details.sung import as_written
from fretloom.performance.events import PlayedBar, TimedBar, Timeline
from fretloom.performance.place_words import Whereabouts
from fretloom.performance.showing.looks import BarLooks
from fretloom.performance.showing.replayed import FirstPlaying, SameRun
from fretloom.performance.showing.shape_names import signed_names
from fretloom.text import listed
from fretloom.trade.phrases.table import say
from fretloom.values import frozen

#: So long a beginning of what is sung is enough to know the place, in characters.
_FIRST_WORDS = 28
#: So many chords of a new ending are said; the road shows all of them.
_MOST_SAID = 8


@frozen
class RoadCell:
    """A cell of the road.

    Args:
        chords: the chords with their shares of the bar, which add up to 1; none in a bar of rest.
        bars: how many bars it stands for; more than one only where they are as before.
        as_before: these bars have been played so before, in their place. new: they differ from what was
            played there the first time.
        pickup: it is one, and counts for no bar.
    """

    chords: tuple[tuple[str, Fraction], ...] = ()
    bars: int = 1
    as_before: bool = False
    new: bool = False
    pickup: bool = False


@frozen
class RoadBlock:
    """A section as it is played, or several playings in a row that are alike.

    `bars` counts one playing, without a pickup; `words` is how the singing begins; `hints` say what is
    different, a sentence each; `number` is that of its first bar in the song.
    """

    title: str
    section: str
    bars: int
    cells: tuple[RoadCell, ...]
    number: int
    times: int = 1
    words: str = ""
    hints: tuple[str, ...] = ()

    @property
    def played_before(self) -> bool:
        """Whether the section was played before."""
        return any(cell.as_before or cell.new for cell in self.cells)

    @property
    def size(self) -> str:
        """Say how long it is: "8 bars", "8 bars, 2 times"."""
        bars = bars_words(self.bars)
        return bars if self.times == 1 else say("road.times", bars=bars, times=self.times)


def bars_words(count: int) -> str:
    """Say a number of bars."""
    return say("road.bar") if count == 1 else say("road.bars", count=count)


def road_of(timeline: Timeline) -> tuple[RoadBlock, ...]:
    """Return the blocks of a performance in order."""
    places, looks, names = Whereabouts(timeline.bars), BarLooks(), signed_names(timeline)
    first: dict[str, tuple[PlayedBar, ...]] = {}
    blocks: list[RoadBlock] = []
    for _, group in groupby(timeline.bars, lambda one: (one.entry, one.playing)):
        bars = tuple(group)
        known = first.setdefault(bars[0].section, bars)
        before = _PlayedBefore(
            known if known is not bars else (), looks, _pattern_said(timeline, bars[0]),
            nothing_hidden(places.section(known[0])), names,
        )  # fmt: skip
        block = _block(bars, before, places)
        if block.played_before:
            block = evolve(block, hints=(*_asked(timeline, bars[0]), *block.hints))
        if blocks and _goes_on(blocks[-1], block):
            blocks[-1] = evolve(blocks[-1], times=blocks[-1].times + 1)
        else:
            blocks.append(block)
    return tuple(blocks)


def _asked(timeline: Timeline, played: PlayedBar) -> tuple[str, ...]:
    """Return what the form asks of a playing, as a sentence; bars put in are found by looking at them."""
    if not timeline.form:
        return ()
    differences = timeline.form[played.entry - 1].differences
    plain = [
        one.plain for one in differences
        if one.plain and not (one.of_bars and one.plain == one.short)
    ]  # fmt: skip
    words = nothing_hidden(listed(plain))
    return (f"{words[:1].upper()}{words[1:]}.",) if words else ()


def _pattern_said(timeline: Timeline, played: PlayedBar) -> bool:
    """Whether the form names the pattern that is used in place of the section's own."""
    differences = timeline.form[played.entry - 1].differences if timeline.form else ()
    return any(one.of_bars and one.plain != one.short for one in differences)


class _PlayedBefore:
    """How a section, called `title` then, was played the first time, bar by bar as it is written.

    `said` is whether the form itself says which bars are picked in another way; `names` are those of the voicings.
    """

    def __init__(
        self, known: Sequence[PlayedBar], looks: BarLooks, said: bool, title: str,
        names: Mapping[str, str],
    ) -> None:  # fmt: skip
        self.size, self.said, self.title, self.names = len(known), said, title, names
        self.bars = FirstPlaying(known, looks)
        self._chords: dict[int, tuple[tuple[str, Fraction], ...]] = {}
        for one in known:
            self._chords.setdefault(one.place, chords_of(one.bar, names))

    def has_chords(self, bars: Sequence[PlayedBar]) -> bool:
        """Whether as many bars were in their place, with the same chords: they are picked in another way."""
        alike = all(self._chords.get(one.place) == chords_of(one.bar, self.names) for one in bars)
        return alike and len({one.place for one in bars}) == len(bars)


def _goes_on(before: RoadBlock, block: RoadBlock) -> bool:
    """Whether a playing is exactly as the one before it, words too, so that one block says both."""
    same = (before.section, before.cells, before.hints) == (
        block.section,
        block.cells,
        block.hints,
    )
    return same and block.played_before and not (before.words or block.words)


def _block(bars: tuple[PlayedBar, ...], before: _PlayedBefore, places: Whereabouts) -> RoadBlock:
    whole = [one for one in bars if one.bar.kind != "pickup"]
    runs = tuple(before.bars.runs(whole)) if before.size else ()
    return RoadBlock(
        title=nothing_hidden(places.section(bars[0])),
        section=bars[0].section,
        bars=len(whole),
        cells=tuple(_cells(runs, before.names) if runs else _first_time(bars, whole, before.names)),
        number=bars[0].number,
        words=_first_words(bars),
        hints=tuple(_new(runs, before)),
    )


def _first_time(
    bars: Sequence[PlayedBar], whole: Sequence[PlayedBar], names: Mapping[str, str]
) -> Iterator[RoadCell]:
    """Yield a cell a bar; a pickup has a stub."""
    if len(whole) < len(bars):
        yield RoadCell(chords_of(bars[0].bar, names), bars=0, pickup=True)
    yield from (RoadCell(chords_of(one.bar, names)) for one in whole)


def _cells(runs: Sequence[SameRun], names: Mapping[str, str]) -> Iterator[RoadCell]:
    """Yield a cell for each run of bars that are as before, and one a bar of the others."""
    for run in runs:
        if run.moved == 0:
            yield RoadCell(bars=len(run.bars), as_before=True)
        else:
            yield from (RoadCell(chords_of(one.bar, names), new=True) for one in run.bars)


def chords_of(bar: TimedBar, names: Mapping[str, str]) -> tuple[tuple[str, Fraction], ...]:
    """Return the shapes of a bar with their shares, by their printed `names`; one that is taken again is one."""
    ends = [*(one.onset for one in bar.voicings[1:]), bar.length]
    found: list[tuple[str, Fraction]] = []
    for taken, end in zip(bar.voicings, ends, strict=False):
        name, share = names[taken.voicing.name], (end - taken.onset) / bar.length
        if found and found[-1][0] == name:
            share += found.pop()[1]
        found.append((name, share))
    return tuple(found)


def _first_words(bars: Sequence[PlayedBar]) -> str:
    """Return how the singing begins, "" where nothing is sung: the section's cue stands for it."""
    texts = [one.sung.text for one in bars if one.sung is not None]
    words = as_written(texts).split() or nothing_hidden(bars[0].bar.cue).split()
    said = ""
    for word in words:
        if said and len(said) + 1 + len(word) > _FIRST_WORDS:
            return say("road.more", words=said)
        said = f"{said} {word}".strip()[: 2 * _FIRST_WORDS]
    return said


def _new(runs: Sequence[SameRun], before: _PlayedBefore) -> Iterator[str]:
    """Yield what is new in a playing, a sentence for each run of bars."""
    for at, run in enumerate(runs):
        if run.moved is None:
            picked = before.has_chords(run.bars)
            if not (picked and before.said):
                yield _sentence(run, not at, at + 1 == len(runs), picked, before.names)
        elif run.moved:
            first, last = run.number + run.moved, run.last + run.moved
            key = "road.moved-one" if first == last else "road.moved"
            yield say(
                key, bars=_bars_named("words.", run.number, run.last),
                source=_bars_named("words.the-", first, last), section=before.title,
            )  # fmt: skip


def _bars_named(key: str, first: int, last: int) -> str:
    kind = "bar" if first == last else "two-bars" if first + 1 == last else "bars"
    return say(f"{key}{kind}", first=first, last=last)


def _sentence(
    run: SameRun, begins: bool, ends: bool, picked: bool, names: Mapping[str, str]
) -> str:
    """Say which bars are new: their chords, or only their picking."""
    chords = _said(
        [chord for one in run.bars for chord, _ in chords_of(one.bar, names)] or [say("road.rest")]
    )
    what = say("road.picked") if picked else say("road.new", chords=chords)
    if ends and not begins:
        return say("road.end", what=what)
    if begins and not ends:
        return say("road.beginning", what=what)
    first = max(run.number, 1)
    if first >= run.last:
        return say("road.one-bar", first=first, what=what)
    several = say("road.several-picked") if picked else say("road.several-new", chords=chords)
    return say("road.several-bars", first=first, last=run.last, what=several)


def _said(chords: Sequence[str]) -> str:
    """Say chords in order: "B7, 2 times", "E, A, B7"."""
    runs = [(chord, len(list(run))) for chord, run in groupby(chords)]
    said = [
        chord if times == 1 else say("road.bar-times", chord=chord, times=times)
        for chord, times in runs[:_MOST_SAID]
    ]
    return ", ".join(said) if len(runs) <= _MOST_SAID else say("road.more", words=", ".join(said))
