"""Counts, and words sung on them, for generated lessons."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import strategies as st
from strategies_words import margins, words

from fretloom.notation.model.details.sung import SungBar, WordsLine, syllables
from fretloom.notation.model.section import Bar
from fretloom.trade.music.meter import Meter

_SHARES = [
    Fraction(0),
    Fraction(1, 2),
    Fraction(1, 4),
    Fraction(3, 4),
    Fraction(1, 3),
    Fraction(1, 6),
]


@st.composite
def counts(draw: st.DrawFn, meter: Meter, after: Fraction, before: Fraction):
    """A count that falls at or after one place of a bar and before another, or None."""
    places = [
        (number + share) * meter.count_length
        for number in range(meter.count_total)
        for share in _SHARES
    ]
    inside = [place for place in places if after <= place < before]
    return meter.count_at(draw(st.sampled_from(inside))) if inside else None


@st.composite
def words_lines(draw: st.DrawFn, meter: Meter, run: tuple[Bar, ...]) -> list[WordsLine]:
    """What is sung at the bars of a line: every time, or with other words the second time."""
    lines: list[WordsLine] = []
    for verse in draw(st.sampled_from([(None,), (1, 2), (None, 2)])):
        bars = [draw(sung_bars(meter)) for _ in range(draw(st.integers(0, sum(bar.times for bar in run) - 1)))]  # fmt: skip
        bars.append(SungBar(text=draw(words)))
        lines.append(WordsLine(verse=verse, bars=tuple(bars), margin=draw(margins())))
    return lines


@st.composite
def sung_bars(draw: st.DrawFn, meter: Meter) -> SungBar:
    """The words of a bar, perhaps each syllable at a count, or none."""
    if draw(st.integers(0, 3)) == 3:
        return SungBar()
    text = draw(st.sampled_from(["lamps", "a-long the lane", "low -- water", "é-lan"]))
    if draw(st.booleans()):
        return SungBar(text=text)
    at = [draw(counts(meter, Fraction(0), meter.length)) for _ in syllables(text)]
    return SungBar(text=text, counts=tuple(sorted(at, key=meter.position)))
