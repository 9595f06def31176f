"""The legend: the signs that a page uses, and no others, in words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from fretloom.formats.tab.drawing.drawn import Drawn
from fretloom.formats.tab.drawing.signs import UNDER_THE_STRINGS, Sign
from fretloom.formats.tab.text import hang, underlined
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.phrases.table import say

_PICKING = {
    "p": "thumb",
    "i": "index finger",
    "m": "middle finger",
    "a": "ring finger",
    "c": "little finger",
}
_FRETTING = {
    "1": "index finger",
    "2": "middle finger",
    "3": "ring finger",
    "4": "little finger",
    "T": "thumb over the neck",
}
_Entries = list[tuple[str, str]]


def legend(drawn: Iterable[Drawn], voicings: Sequence[Voicing], width: int) -> list[str]:
    """Return the signs that the bars and the table of voicings use, each with its meaning."""
    bars = list(drawn)
    entries = [*_on_and_over_the_strings(bars), *_under_the_strings(bars), *_fretting(voicings)]
    if not entries:
        return []
    indent = max(len(sign) for sign, _ in entries) + 4
    lines = underlined(say("text-tab.signs"))
    for sign, meaning in entries:
        lines += hang(f"  {sign}", meaning, width, indent)
    return lines


def _on_and_over_the_strings(bars: Sequence[Drawn]) -> _Entries:
    used: set[Sign] = {Sign.NUMBERS} if bars else set()
    used = used.union(*(bar.picture.signs | bar.signs for bar in bars))
    if any(bar.opens or bar.closes for bar in bars):
        used.add(Sign.REPEAT)
    if Sign.QUARTERS in used:
        # With quarters in the count the `&` is explained along with them.
        used.discard(Sign.HALF)
    return _rows([sign for sign in Sign if sign in used and sign not in UNDER_THE_STRINGS])


def _under_the_strings(bars: Sequence[Drawn]) -> _Entries:
    pictures = [bar.picture for bar in bars]
    used = frozenset[Sign]().union(*(bar.picture.signs | bar.signs for bar in bars))
    letters = frozenset[str]().union(*(shown.picking for shown in pictures))
    entries = _named(_PICKING, letters, say("text-tab.picking-fingers"))
    for sign in UNDER_THE_STRINGS:
        if sign in (Sign.BRUSH_DOWN, Sign.BRUSH_UP):
            written = [text for shown in pictures for one, text in shown.brushes if one is sign]
            entries += [(text, sign.meaning) for text in written[:1]]
        elif sign in used:
            entries += _rows([sign])
    return entries


def _fretting(voicings: Sequence[Voicing]) -> _Entries:
    held = {finger for voicing in voicings for finger in voicing.fingers if finger}
    entries = [
        (say("text-tab.row-fingers"), words)
        for _, words in _named(_FRETTING, held, say("text-tab.in-the-table"))
    ]
    if any(None in voicing.frets for voicing in voicings):
        entries += _rows([Sign.UNPLAYED])
    return entries


def _named(names: Mapping[str, str], used: Iterable[str], what: str) -> _Entries:
    """Return the row that names the fingers that are used, in the order of the hand."""
    letters = [letter for letter in names if letter in set(used)]
    words = ", ".join(f"{letter} {names[letter]}" for letter in letters)
    return [(" ".join(letters), f"{what}: {words}")] if letters else []


def _rows(signs: Iterable[Sign]) -> _Entries:
    return [(sign.shown, sign.meaning) for sign in signs]
