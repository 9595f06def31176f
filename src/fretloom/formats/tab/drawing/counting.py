"""How a bar is counted: a word for each number, and for what is plucked between the numbers."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from math import lcm

from fretloom.formats.tab.drawing.signs import Sign
from fretloom.performance.events import TimedBar
from fretloom.trade.music.meter import Count, Meter

_UNNAMED = "."
_BETWEEN = ","
#: Into so many shares a count can be seen to be divided; beyond, only what is plucked gets a sign.
_MOST_SHARES = 12
_STRAIGHT = (Fraction(0), Fraction(1, 4), Fraction(1, 2), Fraction(3, 4))
#: The words between the numbers, as the legend explains them.
_SIGNS = {
    "&": Sign.HALF, "e": Sign.QUARTERS, "a": Sign.QUARTERS, "trip": Sign.THIRDS,
    "let": Sign.THIRDS, _UNNAMED: Sign.SHARES, _BETWEEN: Sign.BETWEEN,
}  # fmt: skip


def count_signs(word: str) -> tuple[Sign, ...]:
    """Return the sign that the legend explains for a word of the count."""
    return (_SIGNS[word],) if word in _SIGNS else ()


def counts(bar: TimedBar, sung: tuple[Fraction, ...] = ()) -> dict[Fraction, str]:
    """Return the words of the count: every number of the bar, and between them what it takes to place each pluck.

    What is sung at the places `sung` is counted, as slurs are, where that needs no dots.
    """
    placed = [Fraction(0), *(note.onset for note in bar.notes)]
    placed += [timed.onset for timed in bar.voicings]
    placed += [slap.onset for slap in bar.slaps]
    placed += [at for at in (bar.release, bar.stop, bar.fermata) if at is not None]
    slurred = [slur.onset for note in bar.notes for slur in note.slurs]
    beside = (*slurred, *sung)
    return _count_words(bar.meter, bar.start, bar.length, tuple(placed), beside)


@lru_cache(maxsize=1024)
def _count_words(
    meter: Meter,
    start: Fraction,
    length: Fraction,
    placed: tuple[Fraction, ...],
    slurred: tuple[Fraction, ...],
) -> dict[Fraction, str]:
    words: dict[Fraction, str] = {}
    for number in range(1, meter.count_total + 1):
        first = meter.position(Count(number)) - start
        inside = [_inside(set(ats), first, meter.count_length) for ats in (placed, slurred)]
        for part, word in _parts(number, *inside).items():
            at = first + part * meter.count_length
            if 0 <= at < length:
                words[at] = word
    return words


def _inside(places: set[Fraction], first: Fraction, length: Fraction) -> set[Fraction]:
    """Return the places that lie in one count, as shares of it."""
    shares = {(at - first) / length for at in places}
    return {share for share in shares if 0 <= share < 1}


def _parts(number: int, plucked: set[Fraction], slurred: set[Fraction]) -> dict[Fraction, str]:
    """Return the words for the parts of one count that are played, and its number.

    If plucked shares do not have words of their own, every share gets a dot, so that the student
    can see into how many the count is divided; if they are too many to see, only the plucked ones
    get a sign, a comma. Slurred notes are counted where that needs no dots.
    """
    words = {Fraction(0): str(number)}
    if _division(plucked | slurred) <= 4:
        return words | {part: _word(part) for part in plucked | slurred if part}
    division = _division(plucked)
    if division <= 4:
        return words | {part: _word(part) for part in plucked if part}
    if division > _MOST_SHARES:
        return words | {
            part: _word(part) if part in _STRAIGHT else _BETWEEN for part in plucked if part
        }
    for share in range(1, division):
        part = Fraction(share, division)
        named = part == Fraction(1, 2) or (division % 8 == 0 and part in _STRAIGHT)
        words[part] = _word(part) if named else _UNNAMED
    return words


def _division(parts: set[Fraction]) -> int:
    return lcm(*(part.denominator for part in parts), 1)


def _word(part: Fraction) -> str:
    """Return `&`, `e`, `a`, `trip` or `let`."""
    return Count(1, part).word
