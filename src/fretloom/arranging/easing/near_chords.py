"""Chords that stand in for one another where a hand is not ready for the right one.

Common practice, no single source. The root stays, and mostly the third; what is
added or missing is said beside each replacement.
"""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve

from fretloom.errors import SymbolError
from fretloom.trade.harmony.note_names import write_note
from fretloom.trade.harmony.symbol import ChordSymbol, parse_symbol
from fretloom.trade.music.key import Key

#: Near kinds by canonical suffix, the nearest first.
_NEAR: dict[str, tuple[str, ...]] = {
    "": ("maj7", "6", "add9", "7", "sus2"),
    "m": ("m7", "madd9", "m11", "m6"),
    "7": ("", "9", "7sus4"),
    "m7": ("m", "m11"),
    "maj7": ("", "6", "maj9"),
    "6": ("", "maj7"),
    "m6": ("m", "m7"),
    "add9": ("", "sus2"),
    "madd9": ("m", "m7"),
    "sus2": ("", "sus4"),
    "sus4": ("", "sus2"),
    "7sus4": ("7", "sus4"),
    "9": ("7", ""),
    "m9": ("m7", "m"),
    "maj9": ("maj7", ""),
    "6/9": ("6", ""),
    "m11": ("m7", "m"),
    "11": ("7sus4", "7"),
    "9sus4": ("7sus4",),
    "13": ("7", ""),
    "maj13": ("maj7", ""),
    "7b9": ("7",),
    "7#9": ("7",),
    "7b5": ("7",),
    "7#5": ("7", "aug"),
    "maj7#11": ("maj7", ""),
    "m(maj7)": ("m", "m7"),
    "dim": ("m7b5", "dim7"),
    "dim7": ("dim",),
    "m7b5": ("dim", "m7"),
    "aug": ("", "7#5"),
}
#: On the fifth step of the key a major chord wants to go home, as it does with a minor seventh.
_DOMINANT = ("7", "7sus4", "add9", "6")
_FIFTH = 7


def near_chords(symbol: ChordSymbol, naming: str, key: Key | None) -> Iterator[ChordSymbol]:
    """Yield chords that can stand in for a chord, the nearest first: without its named bass, then other kinds.

    `naming` is that of the lesson, `key` the one in which the hand thinks, if it is known.
    """
    if symbol.quality is None:
        return
    if symbol.bass is not None:
        yield from _read(write_note(symbol.root, naming) + symbol.quality.suffix, naming)
    near = _NEAR.get(symbol.quality.suffix, ())
    if symbol.quality.suffix == "" and key is not None:
        above = (symbol.root.pitch_class - key.tonic.pitch_class) % 12
        near = _DOMINANT if above == _FIFTH else near
    for suffix in near:
        yield from _read(write_note(symbol.root, naming) + suffix, naming)


def _read(text: str, naming: str) -> Iterator[ChordSymbol]:
    """Yield a symbol as a lesson of that naming writes it, unless there it would mean something else."""
    try:
        found = parse_symbol(text, naming)
    except SymbolError:
        return
    yield evolve(found, text=text)
