"""From sounding notes to the names a guitarist would give them, best first.

A name is right if its essential tones sound and no foreign tone does; more than one can be right.
The order is by cost: how rare the kind of chord is, whether the root is lowest, what is left out.
The costs are our own judgement of common practice, tuned on an open collection of voicings.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache, lru_cache

from fretloom.shapes import trusted
from fretloom.trade.harmony.degrees import Degree
from fretloom.trade.harmony.heard.mistaken import is_heard
from fretloom.trade.harmony.quality import Quality
from fretloom.trade.harmony.suffix.read import read_suffix
from fretloom.trade.harmony.symbol import ChordSymbol
from fretloom.trade.music.key import Key
from fretloom.trade.music.pitch import STEPS, NoteName, awkward, fifths_of, spell
from fretloom.values import frozen

#: Kinds of chord by their canonical suffix; those on an earlier line are more usual.
_USUAL = (
    ("", "m"),
    ("5", "7", "m7", "maj7"),
    ("sus4", "sus2", "7sus4"),
    ("6", "m6", "dim", "dim7", "aug", "m7b5", "add9", "9", "m9", "maj9"),
    ("madd9", "6/9", "m6/9", "7#5", "7b5", "7b9", "7#9", "9sus4", "11", "m11", "13", "m(maj7)"),
    ("maj7#11", "maj13", "maj7#5", "maj7b5", "9#5", "9b5", "9#11", "7#11", "7b13", "13sus4"),
    ("m(maj9)", "dim(maj7)", "maj11", "m13", "maj9#11", "13b9", "13#11", "add11", "madd11"),
    ("m(maj11)", "7b5b9", "7b5#9", "7#5b9", "7#5#9", "7b9#11", "7#9#11", "7b9b13", "m7#5"),
    ("7add13", "7sus4b9", "7sus2", "maj7sus4", "maj7sus2", "sus2sus4", "m9b5", "m11b5", "(b5)"),
    ("m7add11", "7add11", "m(b6)", "m#5", "maj7add11", "maj7add13", "6sus4", "6sus2", "13#9"),
)
#: Place on the line of fifths around which a piece without a key is spelled: D, the middle of C major.
MIDDLE = 2
_LINE = 1.0
_THIRD_OR_FIFTH_LOWEST = 3.5
_OTHER_TONE_LOWEST = 4.25
_FOREIGN_LOWEST = 4.75
_FOREIGN_UNDER_SUSPENDED = 7.0
_NO_ROOT = 7.0
_NO_FIFTH = 0.75
_NO_FIFTH_SUSPENDED = 3.5
_NO_EXTENSION = 0.5
#: How much farther on the line of fifths a root such as E# or Cb is taken to lie.
_AWKWARD = 40


@frozen
class ChordName:
    """One right name for sounding notes.

    `left_out` are the degrees of the chord that do not sound; `rootless` says that its root is one
    of them. `cost` orders names, least first; only differences mean something.
    """

    symbol: ChordSymbol
    left_out: tuple[Degree, ...] = ()
    cost: float = 0.0

    @property
    def rootless(self) -> bool:
        """Whether the root is left out."""
        return Degree(1) in self.left_out

    def __str__(self) -> str:
        return f"{self.symbol}" + (" without its root" if self.rootless else "")


@frozen
class _ChordKind:
    """A kind of chord with its tones as bits: bit n is the tone n semitones above the root."""

    suffix: str
    quality: Quality
    cost: float
    all: int
    essential: int

    @property
    def suspended(self) -> bool:
        """Whether the chord has no third: a suspended or a power chord."""
        return not self.all & 0b11000


def names_of(sounding: Iterable[int], key: Key | None = None) -> tuple[ChordName, ...]:
    """Return the right names of sounding MIDI numbers, best first; empty if none is known.

    `key` decides between enharmonic spellings; without it the one with fewer accidentals is taken.
    """
    notes = sorted(sounding)
    if len({midi % 12 for midi in notes}) < 2:
        return ()
    heard = _bits(midi % 12 for midi in notes)
    return _names_of_tones(heard, notes[0] % 12, MIDDLE + (key.fifths if key else 0))


@lru_cache(maxsize=4096)
def _names_of_tones(heard: int, bass: int, middle: int) -> tuple[ChordName, ...]:
    """Return the right names of tones, given as bits, over a bass; many voicings sound the same ones."""
    tones = frozenset(tone for tone in range(12) if heard >> tone & 1)
    with trusted():
        found = [
            name
            for root in range(12)
            for name in _on_root(root, heard, bass, middle)
            if is_heard(name.symbol, tones, bass)
        ]
    return tuple(sorted(found, key=lambda name: (name.cost, name.symbol.canonical)))


def _on_root(root: int, heard: int, bass: int, middle: int) -> Iterator[ChordName]:
    above = _rotated(heard, root)
    lowest = (bass - root) % 12
    for kind in _kinds():
        if not above & ~kind.all and not kind.essential & ~above:
            yield _name(kind, root, above, lowest, middle)
        elif lowest and not kind.all >> lowest & 1:
            upper = above & ~(1 << lowest)
            if upper & 1 and not upper & ~kind.all and not kind.essential & ~upper:
                yield _name(kind, root, upper, lowest, middle)


def _name(kind: _ChordKind, root: int, above: int, lowest: int, middle: int) -> ChordName:
    note = spell_root(root, kind.quality, middle)
    left_out = tuple(one for one in kind.quality.degrees if not above >> one.semitones & 1)
    rootless = not above & 1
    bass = bass_note(note, kind.quality, lowest) if lowest and not rootless else None
    text = f"{note}{kind.suffix}" + (f"/{bass}" if bass else "")
    symbol = ChordSymbol(note, kind.quality, bass, text, kind.suffix)
    return ChordName(symbol, left_out, kind.cost + _cost(kind, left_out, lowest, rootless))


def _cost(kind: _ChordKind, left_out: tuple[Degree, ...], lowest: int, rootless: bool) -> float:
    cost = _NO_ROOT if rootless else _bass_cost(kind, lowest)
    for degree in left_out:
        if degree.number == 5:
            cost += _NO_FIFTH_SUSPENDED if kind.suspended else _NO_FIFTH
        elif degree.number > 1:
            cost += _NO_EXTENSION
    return cost


def _bass_cost(kind: _ChordKind, lowest: int) -> float:
    if lowest == 0:
        return 0.0
    if not kind.all >> lowest & 1:
        return _FOREIGN_UNDER_SUSPENDED if kind.suspended else _FOREIGN_LOWEST
    return _THIRD_OR_FIFTH_LOWEST if lowest in (3, 4, 6, 7, 8) else _OTHER_TONE_LOWEST


@lru_cache(maxsize=4096)
def spell_root(pitch_class: int, quality: Quality, middle: int = MIDDLE) -> NoteName:
    """Spell a root so that the chord's notes lie near a place on the line of fifths.

    `middle` is that of the key's seven notes: `MIDDLE` (D) for C major, one more for each sharp.
    """
    roots = [
        NoteName(step, alter)
        for step in STEPS
        for alter in (0, 1, -1)
        if NoteName(step, alter).pitch_class == pitch_class
    ]

    def distance(root: NoteName) -> int:
        notes = [degree.above(root) for degree in quality.degrees]
        return sum(abs(fifths_of(note) - middle) for note in notes) + _AWKWARD * awkward(root)

    return min(roots, key=distance)


def bass_note(root: NoteName, quality: Quality, lowest: int) -> NoteName:
    """Spell the bass that lies `lowest` half steps above a root, as the chord needs it."""
    inside = next((one for one in quality.degrees if one.semitones == lowest), None)
    note = (inside or _BASSES[lowest]).above(root)
    return spell(note.pitch_class).name if awkward(note) else note


_BASSES = (
    *(Degree(1), Degree(2, -1), Degree(2), Degree(3, -1), Degree(3), Degree(4)),
    *(Degree(4, 1), Degree(5), Degree(6, -1), Degree(6), Degree(7, -1), Degree(7)),
)


@cache
def _kinds() -> tuple[_ChordKind, ...]:
    kinds = []
    for line, suffixes in enumerate(_USUAL):
        for suffix in suffixes:
            quality, _ = read_suffix(suffix, 0)
            everything = _bits(one.semitones for one in quality.degrees)
            essential = _bits(one.semitones for one in quality.essential)
            kinds.append(_ChordKind(suffix, quality, line * _LINE, everything, essential))
    return tuple(kinds)


def _bits(semitones: Iterable[int]) -> int:
    bits = 0
    for one in semitones:
        bits |= 1 << one
    return bits


def _rotated(bits: int, root: int) -> int:
    """Return pitch class bits counted from a root."""
    return (bits >> root | bits << (12 - root)) & 0xFFF


def how_usual(suffix: str) -> float:
    """Return the cost of a kind of chord, 0 for a plain one; more for rarer ones."""
    return next((kind.cost for kind in _kinds() if kind.suffix == suffix), float("inf"))


def usual_suffixes() -> tuple[str, ...]:
    """Return the canonical suffixes of all kinds of chord that a name can have."""
    return tuple(suffix for line in _USUAL for suffix in line)
