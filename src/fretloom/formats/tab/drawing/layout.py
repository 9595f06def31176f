"""One bar of tab on its grid: every instant gets a column, and nothing overlaps.

Longer times get more columns, so that the rhythm can be seen; where frets or words need more room
than that, the bar gets wider from there on.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from fractions import Fraction
from itertools import pairwise

from attrs import evolve

from fretloom.formats.tab.drawing.frets import Carried
from fretloom.formats.tab.drawing.instants import Instant, instants
from fretloom.formats.tab.drawing.signs import Sign
from fretloom.formats.tab.drawing.words_sung import Verse, Words, in_place, verses
from fretloom.formats.tab.text import width_of
from fretloom.performance.events import TimedBar
from fretloom.performance.manner import Sung
from fretloom.values import frozen

#: Columns for a quarter note, at least and at most.
_LEAST, _MOST = 4, 12


@frozen(kw_only=True)
class Picture:
    """A bar laid out, without the bar lines around it.

    `strings[0]` is string 1. `chords`, `counts`, `thumbs` and `slaps` are words with their columns;
    `fingers` holds such a list for each line of fingers, the lowest first; `sung` are the words of
    the song. For the legend, `signs` are those used, `picking` the picking fingers, and
    `brushes` has for each direction how its first brush is written.
    """

    width: int
    strings: tuple[str, ...]
    counts: Words = ()
    chords: Words = ()
    thumbs: Words = ()
    slaps: Words = ()
    fingers: tuple[Words, ...] = ()
    sung: tuple[Verse, ...] = ()
    signs: frozenset[Sign] = frozenset()
    picking: frozenset[str] = frozenset()
    brushes: tuple[tuple[Sign, str], ...] = ()


def columns_per_quarter(bars: Iterable[TimedBar], room: int) -> Fraction:
    """Choose the scale for a page: the shortest common distance gets three columns.

    A distance is common if it makes up a tenth of all; sixteenths and shorter get two columns. So do
    all if then four bars of the usual length have room on a line, and not otherwise.

    Args:
        room: columns of a line for bars and bar lines.
    """
    distances: list[Fraction] = []
    lengths = Counter[Fraction]()
    for bar in bars:
        places = sorted({note.onset for note in bar.notes} | {Fraction(0), bar.length})
        distances += [after - before for before, after in pairwise(places)]
        lengths[bar.length] += 1
    distances.sort()
    common = distances[len(distances) // 10] if distances else Fraction(1)
    usual = max(lengths, key=lengths.__getitem__, default=Fraction(0))
    wide, narrow = (
        min(max(columns / common, Fraction(_LEAST)), Fraction(_MOST)) for columns in (3, 2)
    )
    four_fit = _four_fit(usual, narrow, room) and not _four_fit(usual, wide, room)
    return narrow if common <= Fraction(1, 4) or four_fit else wide


def _four_fit(length: Fraction, scale: Fraction, room: int) -> bool:
    # Beside its time a bar has its bar line and a column before its first note.
    return 4 * (round(length * scale) + 2) + 1 <= room


def picture(
    bar: TimedBar,
    names: dict[str, str],
    strings: int,
    scale: Fraction,
    carried: Sequence[Carried] = (),
    sung: Sequence[Sung] = (),
) -> Picture:
    """Lay out a bar at a scale given in columns for a quarter note."""
    sung = in_place(sung)
    placed = instants(bar, names, carried, sung)
    columns, width = _columns(placed, bar.length, scale)
    pairs = list(zip(columns, placed, strict=True))
    words, width = verses(sung, [(column, instant.sung) for column, instant in pairs], width)
    lines = max((len(instant.fingers) for instant in placed), default=0)
    return Picture(
        width=width,
        strings=tuple(_string(number, pairs, width) for number in range(1, strings + 1)),
        counts=_words((column, instant.count) for column, instant in pairs),
        chords=_words((column, instant.chord) for column, instant in pairs),
        thumbs=_words((column, instant.thumb) for column, instant in pairs),
        slaps=_words((column, instant.slaps) for column, instant in pairs),
        fingers=tuple(
            _words((column, _at(instant.fingers, line)) for column, instant in pairs)
            for line in range(lines)
        ),
        sung=words,
        signs=frozenset[Sign]().union(*(instant.signs for instant in placed)),
        picking=frozenset(note.finger for note in bar.notes),
        brushes=_first_of_each(brush for instant in placed for brush in instant.brushes),
    )


def widened(shown: Picture, width: int) -> Picture:
    """Return a bar that is at least `width` columns wide."""
    if shown.width >= width:
        return shown
    strings = tuple(line.ljust(width, line[-1]) for line in shown.strings)
    return evolve(shown, width=width, strings=strings)


def same_again(strings: int) -> Picture:
    """Return the narrow bar that says: play the bar before again."""
    middle = (strings - 1) // 2
    lines = tuple("--%--" if place == middle else "-----" for place in range(strings))
    return Picture(width=5, strings=lines, signs=frozenset({Sign.AGAIN}))


def _first_of_each(found: Iterable[tuple[Sign, str]]) -> tuple[tuple[Sign, str], ...]:
    first: dict[Sign, str] = {}
    for sign, text in found:
        first.setdefault(sign, text)
    return tuple(first.items())


def _words(found: Iterable[tuple[int, str]]) -> Words:
    return tuple((column, word) for column, word in found if word)


def _at(words: Sequence[str], line: int) -> str:
    return words[line] if line < len(words) else ""


def _columns(placed: Sequence[Instant], length: Fraction, scale: Fraction) -> tuple[list[int], int]:
    """Return a column for each instant, and the width of the bar."""
    start = max([1, *(len(fret.before) for fret in placed[0].frets.values())])
    columns: list[int] = []
    ends: dict[object, int] = {}
    shift = start
    for instant in placed:
        wanted = round(instant.at * scale) + shift
        column = max([wanted, *_earliest(instant, ends)])
        shift += column - wanted
        columns.append(column)
        _note_ends(instant, column, ends)
    free = [end for key, end in ends.items() if isinstance(key, str)]
    fretted = [end + 1 for key, end in ends.items() if isinstance(key, int)]
    return columns, max([round(length * scale) + shift, *free, *fretted])


def _earliest(instant: Instant, ends: dict[object, int]) -> Iterable[int]:
    """Yield the first columns that an instant can have beside what is left of it."""
    for string, fret in instant.frets.items():
        if string in ends:
            yield ends[string] + len(fret.before) + (0 if fret.slurred else 1)
        else:
            yield max(1, len(fret.before))
    for name, _ in _texts(instant):
        if name in ends:
            yield ends[name] + 1


def _note_ends(instant: Instant, column: int, ends: dict[object, int]) -> None:
    for string, fret in instant.frets.items():
        ends[string] = column + len(fret.body)
    for name, text in _texts(instant):
        ends[name] = column + width_of(text)


def _texts(instant: Instant) -> Iterable[tuple[str, str]]:
    """Yield the words of an instant with a name for the line they stand in."""
    lines = {"count": instant.count, "chord": instant.chord, "thumb": instant.thumb}
    lines["slaps"] = instant.slaps
    lines |= {f"finger {place}": text for place, text in enumerate(instant.fingers)}
    lines |= {f"words {time}": text for time, text in instant.sung.items()}
    return ((name, text) for name, text in lines.items() if text)


def _string(number: int, pairs: Sequence[tuple[int, Instant]], width: int) -> str:
    """Return the line of a string, doubled while a note on it is to be held."""
    line, until = "", _NOT_HELD
    for column, instant in pairs:
        fret = instant.frets.get(number)
        if instant.at == until:
            end = column if fret is None else column - len(fret.before)
            line, until = line.ljust(end, "="), _NOT_HELD
        if fret is not None:
            before = column - len(fret.before)
            line = line.ljust(before, _filler(until)) + fret.before + fret.body
            until = _NOT_HELD if fret.until is None else fret.until
    return line.ljust(width, _filler(until))


#: In place of an instant: nothing is held.
_NOT_HELD = Fraction(-1)


def _filler(until: Fraction) -> str:
    return "-" if until == _NOT_HELD else "="
