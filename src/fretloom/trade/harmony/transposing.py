"""Moves chord symbols to another pitch: what sounds with a capo, or what to play in another key."""

from __future__ import annotations

from fretloom.trade.harmony.degrees import Degree, spelled
from fretloom.trade.harmony.naming import MIDDLE, spell_root
from fretloom.trade.harmony.symbol import ChordSymbol
from fretloom.trade.music.key import Key
from fretloom.trade.music.pitch import STEPS, NoteName, awkward, spell
from fretloom.values import evolve


def transposed(
    symbol: ChordSymbol, semitones: int, key: Key | None = None, naming: str = "english"
) -> ChordSymbol:
    """Return the symbol moved up by semitones, spelled for the new `key` if it is known.

    The teacher's own suffix stays as it is; a symbol moved by whole octaves stays the same.
    """
    if symbol.quality is None or semitones % 12 == 0:
        return symbol
    middle = MIDDLE + (key.fifths if key else 0)
    root = spell_root((symbol.root.pitch_class + semitones) % 12, symbol.quality, middle)
    bass = _moved_bass(symbol, root, semitones) if symbol.bass else None
    # the text is written again, so that a small German letter stays small
    moved = ChordSymbol(root, symbol.quality, bass, symbol.text, symbol.suffix)
    return evolve(moved, text=moved.written(naming))


def _moved_bass(symbol: ChordSymbol, root: NoteName, semitones: int) -> NoteName:
    """Keep the distance in letters between root and bass, where that gives a plain note."""
    assert symbol.bass is not None
    letters = STEPS.index(symbol.bass.step) - STEPS.index(symbol.root.step)
    step = STEPS[(STEPS.index(root.step) + letters) % 7]
    bass = spelled((symbol.bass.pitch_class + semitones) % 12, step)
    in_chord = any(Degree.above(one, root) == bass for one in symbol.degrees)
    return spell(bass.pitch_class).name if awkward(bass) and not in_chord else bass
