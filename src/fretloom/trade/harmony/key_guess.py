"""The key that a row of chords suggests, and how sure that is.

Each of the 24 major and minor keys is scored by how much of what sounds lies in its scale (in minor
with the raised seventh too), by how long its tonic chord is held, and by the chords that begin and
end. The weights are our own judgement (no source); they are tested on ordinary progressions.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from fretloom.trade.harmony.degrees import Degree
from fretloom.trade.harmony.symbol import ChordSymbol
from fretloom.trade.music.key import Key
from fretloom.trade.music.pitch import STEPS, NoteName
from fretloom.values import frozen

Chords = Sequence[tuple[ChordSymbol, Fraction]]

_MAJOR = (0, 2, 4, 5, 7, 9, 11)
_MINOR = (0, 2, 3, 5, 7, 8, 10, 11)
_INSIDE = 3.0
_TONIC_HELD = 0.4
_FIRST = 0.15
_LAST = 0.25
_CADENCE = 0.15
#: Lead over the next best key from which the answer is called sure, or likely.
_SURE, _LIKELY = 0.2, 0.07


@frozen
class KeyGuess:
    """A key worked out from chords.

    `certainty` is "sure", "likely" or "open"; `other` is the next best key.
    """

    key: Key
    certainty: str
    other: Key

    def __str__(self) -> str:
        if self.certainty == "open":
            return f"{self.key} or {self.other}"
        return f"{self.key} ({self.certainty})"


def guess_key(chords: Chords) -> KeyGuess | None:
    """Return the key that chords suggest, each given with its length; None without chords."""
    real = [(symbol, length) for symbol, length in chords if symbol.quality and length > 0]
    if not real:
        return None
    heard = _heard(real)
    scores = {key: _score(key, heard) for key in _keys()}
    ranked = sorted(scores, key=lambda key: (-scores[key], abs(key.fifths), key.mode))
    best, other = ranked[:2]
    lead = scores[best] - scores[other]
    certainty = "sure" if lead >= _SURE else "likely" if lead >= _LIKELY else "open"
    return KeyGuess(best, certainty, other)


def _keys() -> list[Key]:
    """Return the major and minor key on each of the twelve tones, with the fewest accidentals."""
    found: dict[tuple[int, str], Key] = {}
    for mode in ("major", "minor"):
        for step in STEPS:
            for alter in (0, 1, -1):
                key = Key(NoteName(step, alter), mode)
                place = (key.tonic.pitch_class, mode)
                if place not in found or abs(key.fifths) < abs(found[place].fifths):
                    found[place] = key
    return list(found.values())


@frozen(eq=False)
class _Heard:
    """A row of chords as a key is scored by it: however long it is, there are few different ones.

    `lengths` are how long each sounds in all; `moves` the pairs that follow one another.
    """

    first: ChordSymbol
    last: ChordSymbol
    lengths: dict[ChordSymbol, Fraction]
    moves: frozenset[tuple[ChordSymbol, ChordSymbol]]


def _heard(chords: Chords) -> _Heard:
    lengths: dict[ChordSymbol, Fraction] = {}
    for symbol, length in chords:
        lengths[symbol] = lengths.get(symbol, Fraction(0)) + length
    symbols = [symbol for symbol, _ in chords]
    return _Heard(symbols[0], symbols[-1], lengths, frozenset(pairwise(symbols)))


def _score(key: Key, heard: _Heard) -> float:
    whole = float(sum(heard.lengths.values()))
    inside = sum(float(length) * _share_inside(key, one) for one, length in heard.lengths.items())
    tonic = sum(float(length) for one, length in heard.lengths.items() if _is_tonic(key, one))
    score = _INSIDE * inside / whole + _TONIC_HELD * tonic / whole
    score += _FIRST * _is_tonic(key, heard.first) + _LAST * _is_tonic(key, heard.last)
    return score + _CADENCE * any(_is_cadence(key, *move) for move in heard.moves)


def _share_inside(key: Key, symbol: ChordSymbol) -> float:
    scale = _MAJOR if key.mode == "major" else _MINOR
    tones = symbol.pitch_classes
    return sum((tone - key.tonic.pitch_class) % 12 in scale for tone in tones) / len(tones)


def _is_tonic(key: Key, symbol: ChordSymbol) -> bool:
    """Whether a chord is the key's tonic: its root, and no third of the other mode."""
    other = Degree(3, -1) if key.mode == "major" else Degree(3)
    same_root = symbol.root.pitch_class == key.tonic.pitch_class
    return same_root and other not in symbol.degrees


def _is_cadence(key: Key, before: ChordSymbol, after: ChordSymbol) -> bool:
    """Whether a dominant (a major chord on the fifth) leads to the tonic."""
    dominant = (before.root.pitch_class - key.tonic.pitch_class) % 12 == 7
    return dominant and Degree(3) in before.degrees and _is_tonic(key, after)
