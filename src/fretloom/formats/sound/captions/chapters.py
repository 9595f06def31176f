"""Sections as chapters."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from fretloom.formats.sound.captions.bars import at_tempo
from fretloom.formats.sound.captions.vtt import Cue, milliseconds, words
from fretloom.performance.events import Timeline
from fretloom.performance.place_words import Whereabouts
from fretloom.performance.playback.sounds import BarTime, Playback
from fretloom.practising.tempos import counted_unit
from fretloom.trade.phrases.table import say


def chapter_cues(playback: Playback, timeline: Timeline, offset: Fraction) -> Iterator[Cue]:
    """Yield a chapter for each playing of a section, as a student calls it; one that is heard again has a number."""
    found: list[tuple[Fraction, str]] = []
    titles = _Titles(playback, timeline)
    before: BarTime | None = None
    for time in playback.bars:
        if _begins(time, before):
            found.append((time.start, titles.of(time)))
        before = time
    for (start, title), (end, _) in pairwise([*found, (playback.end, "")]):
        first, last = (
            milliseconds(playback.clock.seconds(position) + offset) for position in (start, end)
        )
        yield Cue(max(0, first), last, (title,))


def _begins(time: BarTime, before: BarTime | None) -> bool:
    """Whether a bar begins a chapter: a section, bars that do not follow on the last, or a count before them."""
    if before is None or time.played is None or before.played is None:
        return before is None or (time.played is None) != (before.played is None)
    here, last = time.played, before.played
    if time.answer != before.answer:
        return True
    if not here.section and not last.section:
        return False
    same = (here.entry, here.playing, here.section) == (last.entry, last.playing, last.section)
    return here.first or not same or here.index != last.index + 1


class _Titles:
    """What chapters are called; one that is heard again has a number, the student's turns have none."""

    def __init__(self, playback: Playback, timeline: Timeline) -> None:
        self._playback, self._unit = playback, counted_unit(timeline.settings)
        self._times, self._where = Counter[str](), Whereabouts(timeline.bars)

    def of(self, time: BarTime) -> str:
        """Return the title of the chapter that begins with a bar."""
        played = time.played
        if played is None:
            return at_tempo(say("captions.count-in"), self._playback, time, self._unit)
        title = words(self._where.section(played)) if played.section else say("captions.bars")
        if time.answer:
            return say("captions.answer", place=title)
        self._times[title] += 1
        number = self._times[title]
        return say("captions.again", title=title, number=number) if number > 1 else title
