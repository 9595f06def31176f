"""Sections as chapters."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from fretloom.formats.sound.captions.vtt import Cue, milliseconds, words
from fretloom.performance.playback.sounds import BarTime, Playback
from fretloom.trade.phrases.table import say


def chapter_cues(playback: Playback, offset: Fraction) -> Iterator[Cue]:
    """Yield a chapter for each playing of a section, up to the next one; a section that comes again has a number."""
    found: list[tuple[Fraction, str]] = []
    times: Counter[str] = Counter()
    before: BarTime | None = None
    for time in playback.bars:
        if _begins(time, before):
            found.append((time.start, _title(time, times)))
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


def _title(time: BarTime, times: Counter[str]) -> str:
    if time.played is None:
        return say("captions.count-in")
    title = words(time.played.title or time.played.section)
    times[title] += 1
    again = times[title] > 1
    return say("captions.again", title=title, number=times[title]) if again else title
