"""Words over bars: how loud and how fast, only where that changes, and what is repeated."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from fretloom.performance.events import WrittenBar
from fretloom.performance.manner import Manner
from fretloom.text import listed, ordinal, times
from fretloom.trade.music.loudness import Dynamic, loudness_words
from fretloom.trade.music.tempo import Tempo, in_notes
from fretloom.trade.phrases.table import say
from fretloom.values import frozen

_Over = list[list[str]]


@frozen
class PaceNow:
    """How fast and how loud it is by now; a section by itself leaves both open."""

    tempo: Tempo | None = None
    dynamic: str = ""
    free: bool = False


def manner_words(
    manners: Sequence[Manner], tempos: Sequence[Tempo | None], now: PaceNow
) -> tuple[_Over, PaceNow]:
    """Return what is said of loudness and speed over each bar, and what is in force after them."""
    found: _Over = []
    for place, (manner, tempo) in enumerate(zip(manners, tempos, strict=True)):
        said = list[str]()
        if tempo != now.tempo or (now.free and not manner.free):
            back = tempo is None or (place > 0 and tempo == tempos[0])
            said.append(say("tab.back-to-tempo") if back else say("tab.tempo", tempo=_fast(tempo)))
        if manner.free and not now.free:
            said.append(say("tab.free-time"))
        said += _ramp(manners, place, _speeding, lambda one: one.tempo_to)
        if manner.dynamic and manner.dynamic != now.dynamic:
            said.append(loudness_words(manner.dynamic))
        said += _ramp(manners, place, _swelling, lambda one: one.dynamic_to or None)
        found.append(said)
        dynamic = manner.dynamic_to or manner.dynamic
        now = PaceNow(manner.tempo_to or tempo, dynamic, manner.free)
    return found, now


def _fast(tempo: Tempo | None) -> str:
    return in_notes(tempo) if tempo is not None else ""


def _speeding(manner: Manner) -> str:
    return manner.tempo_change


def _swelling(manner: Manner) -> str:
    return manner.swell


_End = Callable[[Manner], Tempo | Dynamic | None]


def _ramp(
    manners: Sequence[Manner], place: int, kind: Callable[[Manner], str], end: _End
) -> list[str]:
    """Return the words for an even change that begins in a bar."""
    word = kind(manners[place])
    if not word or (place and _goes_on(manners[place - 1], manners[place], kind, end)):
        return []
    last = place
    while last + 1 < len(manners) and _goes_on(manners[last], manners[last + 1], kind, end):
        last += 1
    to = end(manners[last])
    if to is None:
        return [say(f"tab.{word}")]
    goal = in_notes(to) if isinstance(to, Tempo) else loudness_words(to)
    bars = last - place + 1
    over = say("tab.over-one") if bars == 1 else say("tab.over-bars", bars=bars)
    return [say(f"tab.{word}-to", goal=goal, over=over)]


def _goes_on(one: Manner, after: Manner, kind: Callable[[Manner], str], end: _End) -> bool:
    """Whether a change that is under way in a bar goes on in the next one."""
    if kind(one) != kind(after):
        return False
    reached = end(one)
    return reached is None or reached in (after.tempo, after.dynamic)


def repeat_words(bars: Sequence[WrittenBar], labels: Sequence[str]) -> _Over:
    """Return what is said of repeats over each bar: how often which bars are played, and which ending is when."""
    found: _Over = [[] for _ in bars]
    opened: list[int] = []
    often_in_endings = 0
    for place, bar in enumerate(bars):
        opened += [place] * bar.repeats
        often_in_endings = max(often_in_endings if bar.passes else 0, *bar.passes, 0)
        if bar.first_of_ending:
            found[place].append(say("tab.time", times=listed([ordinal(one) for one in bar.passes])))
        if bar.last_of_ending and opened and 0 in bar.ends:
            found[place].append(say("tab.back", bar=labels[opened[-1]]))
        if bar.last_of_endings and opened:
            begin = opened.pop()
            found[begin].insert(0, _played_so_often(labels, begin, place, often_in_endings))
            often_in_endings = 0
        for often in bar.ends:
            if often and opened:
                begin = opened.pop()
                found[begin].insert(0, _played_so_often(labels, begin, place, often))
    return found


def _played_so_often(labels: Sequence[str], begin: int, end: int, often: int) -> str:
    if begin == end:
        return say("tab.bar-repeated", times=times(often))
    return say("tab.bars-repeated", first=labels[begin] or 1, last=labels[end], times=times(often))
