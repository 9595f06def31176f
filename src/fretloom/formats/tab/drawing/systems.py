"""Lines of tab: bars side by side up to the width of the page, with what stands around them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from itertools import groupby, pairwise
from operator import attrgetter

from attrs import evolve, field

from fretloom.formats.tab.drawing.drawn import Drawn
from fretloom.formats.tab.drawing.layout import Picture
from fretloom.formats.tab.drawing.pieces import pieces_of
from fretloom.formats.tab.drawing.signs import Sign
from fretloom.formats.tab.drawing.words_sung import Words
from fretloom.formats.tab.text import row, width_of, wrap
from fretloom.values import frozen

#: More bars than these on a line are hard to count (common practice, no source).
_MOST_IN_LINE = 4


@frozen
class _Placed:
    """A bar and the column of its first character."""

    drawn: Drawn
    column: int = field(kw_only=True)


def systems(bars: Sequence[Drawn], names: Sequence[str], width: int) -> Iterator[list[str]]:
    """Yield the lines of each system; `names` are those of the strings, string 1 first."""
    label = max(map(len, names), default=0)
    padded = [name.rjust(label) for name in names]
    for run in _in_lines(bars, label, width):
        if _width(run, label) <= width:
            yield _system(run, padded, width)
            continue
        for piece in pieces_of(run[0], width - label):
            yield _system([piece], padded, width)


def _in_lines(bars: Sequence[Drawn], label: int, width: int) -> list[list[Drawn]]:
    """Share bars out over lines: as many in each as fit, up to four; fewer if that takes no more lines.

    So six bars are three and three. Where some bars are so wide that this takes many lines, each line
    has as many as fit on it.
    """
    greedy = _as_many_as_fit(bars, label, width)
    even = [_so_many_each(bars, number) for number in range(2, _MOST_IN_LINE + 1)]
    fitting = [lines for lines in even if all(_width(line, label) <= width for line in lines)]
    best = min(fitting, key=len, default=greedy)
    return best if 2 * len(best) <= 3 * len(greedy) else greedy


def _so_many_each(bars: Sequence[Drawn], number: int) -> list[list[Drawn]]:
    base = max(bars[0].first, 1)
    lines = groupby(bars, lambda bar: max(bar.first - base, 0) // number)
    return [_unfolded(list(line)) for _, line in lines]


def _as_many_as_fit(bars: Sequence[Drawn], label: int, width: int) -> list[list[Drawn]]:
    lines: list[list[Drawn]] = []
    taken = 0
    for bar in bars:
        if lines:
            sign = _closing(lines[-1][-1].closes) + _opening(bar.opens)
            longer = taken + len(sign) + bar.picture.width
            some = len(lines[-1]) < _MOST_IN_LINE
            if some and longer + len(_closing(bar.closes)) <= width:
                lines[-1].append(bar)
                taken = longer
                continue
        lines.append(_unfolded([bar]))
        taken = label + 1 + len(_opening(bar.opens)) + lines[-1][0].picture.width
    return lines


def _unfolded(line: list[Drawn]) -> list[Drawn]:
    """Write the first bar of a line out."""
    first = line[0]
    if first.full is None:
        return line
    return [evolve(first, picture=first.full, full=None), *line[1:]]


def _bar_lines(bars: Sequence[Drawn]) -> list[str]:
    """Return the sign before each bar, and the one after the last."""
    signs = ["|" + _opening(bars[0].opens)]
    for bar, after in pairwise(bars):
        signs.append(_closing(bar.closes) + _opening(after.opens))
    return [*signs, "" if bars[-1].goes_on else _closing(bars[-1].closes)]


def _opening(repeats: int) -> str:
    return "|".join(":" * repeats)


def _closing(repeats: int) -> str:
    return ":|" * repeats or "|"


def _width(bars: Sequence[Drawn], label: int) -> int:
    inside = sum(bar.picture.width for bar in bars)
    return label + inside + sum(map(len, _bar_lines(bars)))


def _system(bars: Sequence[Drawn], names: Sequence[str], width: int) -> list[str]:
    signs = _bar_lines(bars)
    column = len(names[0])
    placed = []
    for sign, bar in zip(signs, bars, strict=False):
        column += len(sign)
        placed.append(_Placed(bar, column=column))
        column += bar.picture.width
    whole = max(width, column + len(signs[-1]))
    above = [*_cues(placed, whole), *_marks(placed, whole)]
    above += [_row(placed, attrgetter("chords")), _row(placed, attrgetter("counts"))]
    below = [*_finger_rows(placed), _row(placed, attrgetter("thumbs"))]
    below += [_row(placed, attrgetter("slaps")), *_verses(placed)]
    lines = [line for line in above if line]
    lines += _strings(bars, names, signs)
    lines += [line for line in below if line]
    return [*wrap(_numbers(bars), width), *lines]


def _numbers(bars: Sequence[Drawn]) -> str:
    if bars[0].place:
        return bars[0].place + (", continued" if bars[0].continued else "")
    pickup = bars[0].first == 0
    first, last = max(bars[0].first, 1), bars[-1].last
    if last == 0:
        return "pickup, continued" if bars[0].continued else "pickup"
    numbers = f"bar {first}" if first == last else f"bars {first}-{last}"
    if bars[0].continued:
        return f"{numbers}, continued"
    return f"pickup, {numbers}" if pickup else numbers


def _strings(bars: Sequence[Drawn], names: Sequence[str], signs: Sequence[str]) -> list[str]:
    lines = []
    for place, name in enumerate(names):
        pieces = [name]
        for sign, bar in zip(signs, bars, strict=False):
            pieces += [sign, bar.picture.strings[place]]
        lines.append("".join([*pieces, signs[-1]]))
    return lines


def _row(placed: Sequence[_Placed], words: Callable[[Picture], Words]) -> str:
    """Return a line of words that stand over or under the strings."""
    return row(
        (bar.column + column, word) for bar in placed for column, word in words(bar.drawn.picture)
    )


def _finger_rows(placed: Sequence[_Placed]) -> list[str]:
    """Return the lines of fingers other than the thumb, the one nearest to the thumb last."""
    count = max(len(bar.drawn.picture.fingers) for bar in placed)
    return [_row(placed, partial(_fingers, line=line)) for line in reversed(range(count))]


def _fingers(picture: Picture, line: int) -> Words:
    return picture.fingers[line] if line < len(picture.fingers) else ()


def _cues(placed: Sequence[_Placed], width: int) -> list[str]:
    """Return the cues, each wrapped to the room up to the next one; the last may be the longest."""
    cued = [bar for bar in placed if bar.drawn.cue]
    ends = [*(bar.column for bar in cued[1:]), width]
    blocks = [
        (bar.column, wrap(bar.drawn.cue, end - bar.column - (end != width)))
        for bar, end in zip(cued, ends, strict=False)
    ]
    height = max((len(lines) for _, lines in blocks), default=0)
    return [
        row((column, lines[place]) for column, lines in blocks if place < len(lines))
        for place in range(height)
    ]


def _marks(placed: Sequence[_Placed], width: int) -> list[str]:
    """Return the lines of words about repeats, meters, loudness and speed, those of a bar right over it."""
    pieces: list[tuple[int, tuple[str, ...]]] = []
    for bar in placed:
        drawn = bar.drawn
        end = bar.column + drawn.picture.width
        pieces += [(bar.column, drawn.before), (end - width_of(drawn.after), (drawn.after,))]
    pieces = [(column, words) for column, words in pieces if any(words)]
    ends = [*(column - 1 for column, _ in pieces[1:]), width]
    blocks = [
        (column, _packed(words, end - column))
        for (column, words), end in zip(pieces, ends, strict=False)
    ]
    height = max((len(lines) for _, lines in blocks), default=0)
    return [
        row((column, lines[place]) for column, lines in blocks if -len(lines) <= place)
        for place in range(-height, 0)
    ]


def _packed(words: Sequence[str], room: int) -> list[str]:
    """Put as many words on a line as have room; longer ones are broken at spaces."""
    lines: list[str] = []
    for one in words:
        if lines and width_of(f"{lines[-1]}, {one}") <= room:
            lines[-1] += f", {one}"
        else:
            lines += wrap(one, room)
    return lines


def _verses(placed: Sequence[_Placed]) -> list[str]:
    """Return the words of the song, a row for each time that has its own, with its number if there are several."""
    heights: dict[int | None, int] = {}
    for bar in placed:
        for verse in bar.drawn.picture.sung:
            heights[verse.time] = max(heights.get(verse.time, 0), len(verse.lines))
    several = any(Sign.OTHER_TIMES in bar.drawn.signs for bar in placed)
    times = sorted(heights, key=lambda time: (time is None, time or 0))
    rows = []
    for time in times:
        for line in range(heights[time]):
            label = "" if line else _verse_label(time, several)
            rows.append(row([(0, label), *_words_sung(placed, time, line)]))
    return rows


def _verse_label(time: int | None, several: bool) -> str:
    if time is None:
        return Sign.OTHER_TIMES.shown if several else ""
    return f"{time}." if time < 10 else f"{time}"


def _words_sung(
    placed: Sequence[_Placed], time: int | None, line: int
) -> Iterator[tuple[int, str]]:
    for bar in placed:
        for verse in bar.drawn.picture.sung:
            if verse.time == time and line < len(verse.lines):
                yield from ((bar.column + column, word) for column, word in verse.lines[line])
