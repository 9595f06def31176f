"""The words of the song under a bar: syllables at their counts, or the bar's words from its start on."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from attrs import evolve

from fretloom.formats.tab.text import clean, width_of, wrap
from fretloom.performance.manner import Sung
from fretloom.values import frozen

#: Words without counts make a bar as wide as this at most; longer ones go on in a second line.
_WIDEST = 36

#: Words of one line, each with its column.
Words = tuple[tuple[int, str], ...]


@frozen
class Verse:
    """The words of one time (None: of every time without its own), in one line or several."""

    time: int | None
    lines: tuple[Words, ...]


def in_place(sung: Iterable[Sung]) -> list[Sung]:
    """Return words as they can be shown: with their syllables only where each has its place."""
    shown: list[Sung] = []
    for one in sung:
        placed = "".join("".join(each.text.split()) for each in one.syllables)
        whole = placed == "".join(one.text.split())
        shown.append(one if whole else evolve(one, syllables=()))
    return shown


def verses(
    sung: Sequence[Sung],
    placed: Sequence[tuple[int, dict[int | None, str]]],
    width: int,
) -> tuple[tuple[Verse, ...], int]:
    """Return the lines of words under a bar, and how wide it must be for them.

    Args:
        sung: the words, one for each time that has some.
        placed: the columns of the bar's instants with the syllables there.
        width: columns of the bar so far.
    """
    start = placed[0][0] if placed else 1
    found: list[Verse] = []
    for one in sung:
        if one.syllables:
            line = tuple((at, words[one.verse]) for at, words in placed if one.verse in words)
            found.append(Verse(one.verse, (line,)))
            continue
        text = clean(one.text)
        longest = max(map(width_of, text.split()), default=0)
        room = max(width - start, min(width_of(text), _WIDEST), longest)
        lines = wrap(text, room)
        width = max(width, *(start + width_of(line) for line in lines)) if lines else width
        if lines:
            found.append(Verse(one.verse, tuple(((start, line),) for line in lines)))
    return tuple(found), width
