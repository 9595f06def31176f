"""Words over bars about loudness and speed: only where something changes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction

from fretloom.formats.tab.drawing.signs import Sign
from fretloom.formats.tab.text import clean
from fretloom.formats.tab.words import short_tempo
from fretloom.performance.events import PlayedBar, WrittenBar
from fretloom.performance.manner import Manner
from fretloom.text import counted
from fretloom.trade.music.loudness import Dynamic, loudness_words
from fretloom.trade.music.tempo import Tempo, in_notes
from fretloom.trade.phrases.table import say
from fretloom.values import frozen

_CHANGES = {
    "crescendo": Sign.CRESCENDO, "diminuendo": Sign.DIMINUENDO, "ritardando": Sign.RITARDANDO,
    "accelerando": Sign.ACCELERANDO,
}  # fmt: skip


@frozen
class Mark:
    """Some words over the start of a bar, and the sign that the legend has for them, if any."""

    text: str
    sign: Sign | None = None


def written_marks(bars: Sequence[WrittenBar]) -> list[list[Mark]]:
    """Return the marks over each bar of a section as it is written: what the section itself asks for."""
    found: list[list[Mark]] = []
    manners = [bar.manner for bar in bars]
    using, tempo, free, dynamic = "", None, False, ""
    for place, (bar, manner) in enumerate(zip(bars, manners, strict=True)):
        marks: list[Mark] = []
        if bar.using != using:
            marks.append(Mark(say("text-tab.in-pattern", name=clean(bar.using))))
        if manner.tempo != tempo or (free and not manner.free):
            back = Mark(Sign.A_TEMPO.shown, Sign.A_TEMPO)
            marks.append(back if manner.tempo is None else Mark(short_tempo(manner.tempo)))
        marks += _free_time(manner, free)
        if manner.tempo_change and not _goes_on(manners, place, _changing, _changed):
            marks.append(_ramp(manners, place, _changing, _changed))
        marks += _loudness(manners, place, dynamic)
        found.append(marks)
        using, free = bar.using, manner.free
        tempo = manner.tempo_to or manner.tempo
        dynamic = manner.dynamic_to or manner.dynamic
    return found


@frozen
class InForce:
    """How fast and how loud it is by now in the performance."""

    tempo: Tempo
    dynamic: str = ""
    free: bool = False


def played_marks(bars: Sequence[PlayedBar], now: InForce) -> tuple[list[list[Mark]], InForce]:
    """Return the marks over each bar of one playing of a section, and what is in force after it."""
    found: list[list[Mark]] = []
    manners = [bar.manner for bar in bars]
    runs = _tempo_runs(bars)
    for place, bar in enumerate(bars):
        manner, marks = bar.manner, list[Mark]()
        if bar.tempo != now.tempo or (now.free and not manner.free):
            back = place and bar.tempo == bars[0].tempo
            marks.append(
                Mark(Sign.A_TEMPO.shown, Sign.A_TEMPO) if back else Mark(short_tempo(bar.tempo))
            )
        marks += _free_time(manner, now.free)
        if runs.get(place):
            end = bars[place + runs[place] - 1].manner.tempo_to
            marks.append(_change(manner.tempo_change, end, runs[place]))
        marks += _loudness(manners, place, now.dynamic)
        found.append(marks)
        if now.dynamic and not manner.dynamic:
            marks.append(Mark(say("text-tab.loudness-as-before")))
        loud = manner.dynamic_to or manner.dynamic
        now = InForce(manner.tempo_to or bar.tempo, loud, manner.free)
    return found, now


def _free_time(manner: Manner, before: bool) -> list[Mark]:
    starts = manner.free and not before
    return [Mark(Sign.FREE_TIME.shown, Sign.FREE_TIME)] if starts else []


def _loudness(manners: Sequence[Manner], place: int, before: str) -> list[Mark]:
    manner, marks = manners[place], list[Mark]()
    if manner.dynamic and manner.dynamic != before:
        marks.append(Mark(loudness_words(manner.dynamic)))
    if manner.swell and not _goes_on(manners, place, _swelling, _swollen):
        marks.append(_ramp(manners, place, _swelling, _swollen))
    return marks


def _tempo_runs(bars: Sequence[PlayedBar]) -> dict[int, int]:
    """Return where tempos begin to change evenly, and over how many bars.

    Two changes one after the other differ in how fast they go.
    """
    runs: dict[int, int] = {}
    begun, rate = 0, Fraction(0)
    for place, bar in enumerate(bars):
        to = bar.manner.tempo_to
        if not bar.manner.tempo_change or to is None:
            rate = Fraction(0)
            continue
        now = (to.quarters_per_minute - bar.tempo.quarters_per_minute) / bar.bar.length
        if now != rate or bars[place - 1].manner.tempo_to != bar.tempo:
            begun, rate = place, now
        runs[begun] = place - begun + 1
    return runs


_Word = Callable[[Manner], str]
_End = Callable[[Manner], Tempo | Dynamic | None]


def _changing(manner: Manner) -> str:
    return manner.tempo_change


def _changed(manner: Manner) -> Tempo | None:
    return manner.tempo_to


def _swelling(manner: Manner) -> str:
    return manner.swell


def _swollen(manner: Manner) -> Dynamic | None:
    return manner.dynamic_to or None


def _goes_on(manners: Sequence[Manner], place: int, word: _Word, end: _End) -> bool:
    """Whether a change that is under way in a bar began before it."""
    if not place or end(manners[place - 1]):
        return False
    return word(manners[place - 1]) == word(manners[place])


def _ramp(manners: Sequence[Manner], place: int, word: _Word, end: _End) -> Mark:
    """Return the words for a change that begins in a bar, without its end where that is not played."""
    for last in range(place, len(manners)):
        if word(manners[last]) != word(manners[place]):
            break
        if end(manners[last]):
            return _change(word(manners[place]), end(manners[last]), last - place + 1)
    return _change(word(manners[place]), None, 0)


def _change(word: str, to: Tempo | Dynamic | None, bars: int) -> Mark:
    if to is None:
        return Mark(word, _CHANGES[word])
    where = in_notes(to) if isinstance(to, Tempo) else loudness_words(to)
    return Mark(f"{word} to {where} over {counted(bars, 'bar')}", _CHANGES[word])
