"""The words of the song, put under the written bars at which they are sung."""

from __future__ import annotations

from collections.abc import Sequence

from attrs import evolve

from fretloom.limits import LIMITS
from fretloom.notation.model.details.sung import SungBar, WordsLine, syllables
from fretloom.performance.expansion.form.section_faults import SectionFaults
from fretloom.performance.expansion.form.slots import Slot
from fretloom.performance.manner import Sung, SungSyllable


def sung_bars(line: WordsLine, above: Sequence[Slot], faults: SectionFaults) -> list[Slot]:
    """Return the bars of the line above with their words; what does not fit is noted."""
    bars = list(above)
    if any(len(slot.sung) >= LIMITS.verses for slot in bars):
        faults.too_many_words(line)
    elif len(line.bars) > len(bars):
        faults.words_beyond(line, len(bars))
    elif any(line.verse == sung.verse for slot in bars for sung in slot.sung):
        faults.words_twice(line)
    else:
        for place, written in enumerate(line.bars):
            if written.text:
                sung = _sung(written, line.verse, bars[place], faults)
                bars[place] = evolve(bars[place], sung=(*bars[place].sung, sung))
    return bars


def _sung(written: SungBar, verse: int | None, slot: Slot, faults: SectionFaults) -> Sung:
    placed: list[SungSyllable] = []
    for count, text in zip(written.counts, syllables(written.text), strict=False):
        onset = slot.meter.position(count) - slot.start
        if placed and onset < placed[-1].onset:
            faults.syllable_earlier(written, text, count)
        elif 0 <= onset < slot.length:
            placed.append(SungSyllable(onset=onset, text=text))
        else:
            faults.syllable_outside(written, text, count, slot.meter)
    return Sung(text=written.text, syllables=tuple(placed), verse=verse, span=written.span)


def words_of(slot: Slot, time: int) -> Sung | None:
    """Return what is sung in a bar that comes for the `time`-th time, counted from 1."""
    every = None
    for sung in slot.sung:
        if sung.verse == time:
            return sung
        if sung.verse is None:
            every = sung
    return every
