"""Beats that are written plainly, `{ p, p m, p+a, - i }`, read without the grammar.

They are most of the text of a lesson whose bars write their patterns out. They are read beat by
beat, and a beat that has been met before is not read again. Round and square brackets, and anything
wrong, are left to the grammar; a text that both can read means the same to both.
"""

from __future__ import annotations

import re
from functools import lru_cache

from fretloom.notation.syntax.parsing.plucks import Make, pluck_maker
from fretloom.values import frozen

_WORD = re.compile(r"[^ \t]+")
#: Plain beats are short: this is more text, and more plucks, than most bars have.
_LONGEST, _MOST_PLUCKS = 80, 16
#: Different beats that are remembered: few lessons have a hundred.
_REMEMBERED = 4096


@frozen
class PlainItem:
    """One item of a beat: the makers of its plucks and where each pluck is; empty for a hold.

    Offsets count from where the text of the beat begins.
    """

    start: int
    end: int
    plucks: tuple[tuple[int, int, Make], ...]


@frozen
class PlainBeat:
    """The items between two commas; offsets count from where the text of the beat begins."""

    start: int
    end: int
    items: tuple[PlainItem, ...]


@frozen
class PlainBeats:
    """The beats of one bar, each with the offset in the statement at which its text begins.

    `start` and `end` are the offsets before the first and after the last pluck or hold, `after` the
    one behind the closing bracket.
    """

    start: int
    end: int
    after: int
    beats: tuple[tuple[int, PlainBeat], ...]


def plain_beats(text: str, opening: int) -> PlainBeats | None:
    """Read the beats after the `{` at an offset, None if they are not plain."""
    closing = text.find("}", opening)
    if closing < 0:
        return None
    begin = opening + 1
    beats: list[tuple[int, PlainBeat]] = []
    for piece in text[begin:closing].split(","):
        beat = _plain_beat(piece) if len(piece) <= _LONGEST else None
        if beat is None:
            return None
        beats.append((begin, beat))
        begin += len(piece) + 1
    (first, start), (last, end) = beats[0], beats[-1]
    return PlainBeats(first + start.start, last + end.end, closing + 1, tuple(beats))


@lru_cache(maxsize=_REMEMBERED)
def _plain_beat(text: str) -> PlainBeat | None:
    """Read the text between two commas."""
    items: list[PlainItem] = []
    for word in _WORD.finditer(text):
        plucks = () if word[0] == "-" else _plucks(word[0], word.start())
        if plucks is None:
            return None
        items.append(PlainItem(word.start(), word.end(), plucks))
    if not items or sum(len(item.plucks) or 1 for item in items) > _MOST_PLUCKS:
        return None
    return PlainBeat(items[0].start, items[-1].end, tuple(items))


def _plucks(word: str, start: int) -> tuple[tuple[int, int, Make], ...] | None:
    """Read `p` or `p+a`, None if a part of it is not a pluck."""
    found: list[tuple[int, int, Make]] = []
    for text in word.split("+"):
        make = pluck_maker(text)
        if make is None:
            return None
        found.append((start, start + len(text), make))
        start += len(text) + 1
    return tuple(found)
