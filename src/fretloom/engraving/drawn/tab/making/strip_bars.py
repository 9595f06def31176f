"""Makes bars to be drawn from a section once through, and from what is played."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from attrs import evolve

from fretloom.engraving.drawn.tab.making.words_over import PaceNow, manner_words, repeat_words
from fretloom.engraving.drawn.tab.values import StripBar
from fretloom.performance.events import PlayedBar, TimedBar, WrittenSection
from fretloom.performance.manner import Sung
from fretloom.performance.showing.looks import BarLooks
from fretloom.trade.phrases.table import say

_Held = tuple[tuple[int, Fraction], ...]


def of_section(
    section: WrittenSection,
    names: Mapping[str, str],
    *,
    before: TimedBar | None = None,
) -> tuple[StripBar, ...]:
    """Return a section once through, with its own numbers and its repeats in words.

    Args:
        names: what is printed for each voicing, by its name in the lesson (`printed_names`).
        before: the bar before it, to tell where the meter changes.
    """
    bars = section.bars
    labels = [str(one.number) if one.number else "" for one in bars]
    said, _ = manner_words(
        [one.manner for one in bars], [one.manner.tempo for one in bars], PaceNow()
    )
    repeats = repeat_words(bars, labels)
    found = _made(
        [one.bar for one in bars], labels, [one.sung for one in bars],
        [[*again, *words] for again, words in zip(repeats, said, strict=True)], names, before,
    )  # fmt: skip
    borders = {at for at, one in enumerate(bars) if one.repeats or one.first_of_ending}
    borders |= {at + 1 for at, one in enumerate(bars) if one.ends or one.last_of_ending}
    return tuple(_folded(found, borders))


def of_played(
    played: Sequence[PlayedBar],
    names: Mapping[str, str],
    *,
    now: PaceNow | None = None,
    before: TimedBar | None = None,
) -> tuple[StripBar, ...]:
    """Return bars as they are played, each with its number in its section.

    Args:
        names: what is printed for each voicing, by its name in the lesson (`printed_names`).
        now: how fast and loud it is before them; by default what the first of them has is not said.
        before: the bar before them, to tell where the meter changes.
    """
    if not played:
        return ()
    start = now or PaceNow(played[0].tempo, played[0].manner.dynamic)
    said, _ = manner_words([one.manner for one in played], [one.tempo for one in played], start)
    labels = [str(one.place) if one.place and one.bar.kind != "pickup" else "" for one in played]
    sung = [(evolve(one.sung, verse=None),) if one.sung is not None else () for one in played]
    found = _made([one.bar for one in played], labels, sung, said, names, before)
    return tuple(_folded(found, set()))


def of_bars(bars: Sequence[TimedBar], names: Mapping[str, str]) -> tuple[StripBar, ...]:
    """Return bars by themselves, without numbers: a pattern alone."""
    made = _made(bars, [""] * len(bars), [()] * len(bars), [[] for _ in bars], names, None)
    return tuple(made)


def _made(
    bars: Sequence[TimedBar],
    labels: Sequence[str],
    sung: Sequence[tuple[Sung, ...]],
    over: Sequence[Sequence[str]],
    names: Mapping[str, str],
    before: TimedBar | None,
) -> list[StripBar]:
    found, held = list[StripBar](), _Held()
    for bar, label, words, said in zip(bars, labels, sung, over, strict=True):
        meter = [say("tab.meter", meter=bar.meter)] if before and bar.meter != before.meter else []
        found.append(
            StripBar(
                bar=bar, label=label, sung=words, cue=bar.cue, over=(*meter, *said), held=held,
                chords=tuple(names.get(one.voicing.name, one.voicing.name) for one in bar.voicings),
            )
        )  # fmt: skip
        held, before = _held_beyond(bar, held), bar
    return found


def _held_beyond(bar: TimedBar, held: _Held) -> _Held:
    """Return the notes that are to be held into the next bar."""
    over = {string: until for string, until in held if until > bar.length}
    for note in bar.notes:
        over.pop(note.string, None)
        lasting = note.technique.held
        if lasting is not None and note.onset + lasting > bar.length:
            over[note.string] = note.onset + lasting
    return tuple((string, until - bar.length) for string, until in over.items())


def _folded(bars: Sequence[StripBar], borders: set[int]) -> Iterator[StripBar]:
    """Yield bars, those marked that are the same as the one before; where a repeat begins or ends none is."""
    looks = BarLooks()
    last: object = None
    for at, one in enumerate(bars):
        look = (looks.of(one.bar), one.held)
        same = last == look and at not in borders and bool(one.bar.notes or one.bar.slaps)
        yield evolve(one, again=True) if same else one
        last = look
