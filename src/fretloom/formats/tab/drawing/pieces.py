"""A bar that is wider than the page, cut into pieces that stand on lines of their own."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve

from fretloom.formats.tab.drawing.drawn import Drawn
from fretloom.formats.tab.drawing.layout import Picture
from fretloom.formats.tab.drawing.words_sung import Verse, Words
from fretloom.formats.tab.text import width_of
from fretloom.text import drawn_signs

#: What a string has where nothing stands on it.
_LINE = "-="
#: At the end of a word that is longer than the page is wide.
_CUT = "\u2026"


def pieces_of(bar: Drawn, room: int) -> Iterator[Drawn]:
    """Yield a bar in pieces, the signs around it at the first and at the last.

    `room` is how many columns a line has for a piece and the bar lines around it.
    """
    rest = bar
    while True:
        before = 1 + max(2 * rest.opens - 1, 0)
        after = max(2 * rest.closes, 1)
        if before + rest.picture.width + after <= room:
            yield evolve(rest, picture=_shortened(rest.picture))
            return
        most = max(room - before - after, 2)
        at = _place(rest.picture, most)
        first, second = _halves(rest.picture, at)
        yield evolve(rest, picture=_shortened(first), after="", goes_on=True)
        rest = evolve(rest, picture=second, cue="", before=(), opens=0, continued=True)


def _place(shown: Picture, most: int) -> int:
    """Return where to cut: as late as possible where nothing is cut through, if there is such a place.

    At best before a count, so that what follows begins with it.
    """
    clear = [at for at in range(2, most + 1) if _is_clear(shown, at)]
    whole = [at for at in clear if not any(_through(one, at) for one in _lines(shown))]
    counted = {before for column, _ in shown.counts for before in (column - 1, column)}
    return max([at for at in whole if at in counted] or whole or clear or [most])


def _is_clear(shown: Picture, at: int) -> bool:
    return all(line[at - 1] in _LINE and line[at] in _LINE for line in shown.strings)


def _lines(shown: Picture) -> Iterator[Words]:
    yield from (shown.counts, shown.chords, shown.thumbs, shown.slaps, *shown.fingers)
    yield from (line for verse in shown.sung for line in verse.lines)


def _through(words: Words, at: int) -> bool:
    return any(column < at < column + width_of(word) for column, word in words)


def _halves(shown: Picture, at: int) -> tuple[Picture, Picture]:
    left, right = (
        evolve(
            shown,
            width=at if first else shown.width - at,
            strings=tuple(line[:at] if first else line[at:] for line in shown.strings),
            counts=_half(shown.counts, at, first),
            chords=_half(shown.chords, at, first),
            thumbs=_half(shown.thumbs, at, first),
            slaps=_half(shown.slaps, at, first),
            fingers=tuple(_half(line, at, first) for line in shown.fingers),
            sung=tuple(
                Verse(verse.time, tuple(_half(line, at, first) for line in verse.lines))
                for verse in shown.sung
            ),
        )
        for first in (True, False)
    )
    return left, right


def _half(words: Words, at: int, first: bool) -> Words:
    if first:
        return tuple((column, word) for column, word in words if column < at)
    return tuple((column - at, word) for column, word in words if column >= at)


def _shortened(shown: Picture) -> Picture:
    """Return a piece whose words end with it: a name may be longer than the page is wide."""

    def fitted(words: Words) -> Words:
        return tuple((column, _fitted(word, shown.width - column)) for column, word in words)

    return evolve(
        shown,
        counts=fitted(shown.counts),
        chords=fitted(shown.chords),
        thumbs=fitted(shown.thumbs),
        slaps=fitted(shown.slaps),
        fingers=tuple(map(fitted, shown.fingers)),
        sung=tuple(Verse(verse.time, tuple(map(fitted, verse.lines))) for verse in shown.sung),
    )


def _fitted(word: str, room: int) -> str:
    if width_of(word) <= room:
        return word
    signs = drawn_signs(word)
    while signs and width_of("".join(signs) + _CUT) > room:
        signs.pop()
    return "".join(signs) + _CUT
