"""Sections as chapters."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from fretloom.formats.sound.captions.vtt import Cue, milliseconds, words
from fretloom.performance.events import Timeline
from fretloom.performance.place_words import Whereabouts
from fretloom.performance.playback.sounds import BarTime, Playback
from fretloom.trade.phrases.table import say


def chapter_cues(playback: Playback, timeline: Timeline, offset: Fraction) -> Iterator[Cue]:
    """Yield a chapter for each playing of a section, as a student calls it; one that is heard again has a number."""
    found: list[tuple[Fraction, str]] = []
    times, where = Counter[str](), Whereabouts(timeline.bars)
    before: BarTime | None = None
    for time in playback.bars:
        if _begins(time, before):
            found.append((time.start, _title(time, times, where)))
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
    same = (here.entry, here.playing, here.section) == (last.entry, last.playing, last.section)
    return here.first or not same or here.index != last.index + 1


def _title(time: BarTime, times: Counter[str], where: Whereabouts) -> str:
    if time.played is None:
        return say("captions.count-in")
    played = time.played
    title = words(where.section(played)) if played.section else say("captions.bars")
    times[title] += 1
    again = times[title] > 1
    return say("captions.again", title=title, number=times[title]) if again else title
