"""Symbols in which a sign may belong to the root or to the number after it: Cb9, Eb9, E#5."""

from __future__ import annotations

import re

from fretloom.errors import SymbolError
from fretloom.trade.harmony.note_names import write_note
from fretloom.trade.harmony.symbol import ChordSymbol, parse_symbol
from fretloom.trade.music.pitch import awkward
from fretloom.values import frozen

_TWO_WAYS = re.compile(r"\s*([A-G])([b#♭♯])(5|9|11|13)\s*(/.*)?")
_CHORDS = {"5": "power chord", "9": "ninth chord", "11": "eleventh chord", "13": "thirteenth chord"}
_TONES = {"5": "fifth", "9": "ninth", "11": "eleventh", "13": "thirteenth"}


@frozen
class OtherReading:
    """The reading that was not taken: `taken` and `other` in words, `symbol` the other chord.

    `doubtful` says that few people would take the sign for the root's (Cb, Fb, E#, B#).
    """

    taken: str
    other: str
    symbol: ChordSymbol
    doubtful: bool


def other_reading(symbol: ChordSymbol, naming: str = "english") -> OtherReading | None:
    """Return the other reading of a symbol such as Cb9; None if there is only one."""
    match = _TWO_WAYS.fullmatch(symbol.text)
    if match is None:
        return None
    letter, sign, number, bass = match.groups()
    plain = {"♭": "b", "♯": "#"}.get(sign, sign)
    text = f"{letter}({plain}5)" if number == "5" else f"{letter}7{plain}{number}"
    try:
        other = parse_symbol(text + (bass or ""), naming)
    except SymbolError:  # There is no flat eleventh.
        return None
    article = "an" if number == "11" else "a"
    word = "flat" if plain == "b" else "sharp"
    return OtherReading(
        f"{article} {_CHORDS[number]} on {write_note(symbol.root, naming)}",
        f"{letter} with a {word} {_TONES[number]} is written {text}",
        other,
        awkward(symbol.root),
    )
