"""What the bass order and the thumb need to know about a chord symbol."""

from __future__ import annotations

from functools import cached_property, lru_cache

from fretloom.errors import SymbolError
from fretloom.values import frozen

_PERFECT_FIFTH = 7
_WEAK = (9, 10, 11)


@frozen
class ChordTones:
    """Pitch classes of a chord symbol: its root, its slash bass, and all of them."""

    root: int
    bass: int | None
    classes: frozenset[int]

    @cached_property
    def fifth(self) -> int:
        """The pitch class of its fifth, perfect, diminished or augmented; a perfect one if it has none."""
        intervals = {(tone - self.root) % 12 for tone in self.classes}
        steps = (step for step in (_PERFECT_FIFTH, 6, 8) if step in intervals)
        return (self.root + next(steps, _PERFECT_FIFTH)) % 12

    def raised(self, semitones: int) -> ChordTones:
        """Return the tones of the same chord, moved up by half steps."""
        bass = None if self.bass is None else (self.bass + semitones) % 12
        classes = frozenset((tone + semitones) % 12 for tone in self.classes)
        return ChordTones((self.root + semitones) % 12, bass, classes)

    def holds(self, pitch: int) -> bool:
        """Whether a pitch belongs to the chord (its slash bass does)."""
        return pitch % 12 in self.classes or pitch % 12 == self.bass

    def is_root_or_fifth(self, pitch: int) -> bool:
        """Whether a pitch is the chord's root or its fifth."""
        return pitch % 12 in (self.root, self.fifth)

    def is_weak(self, pitch: int) -> bool:
        """Whether a pitch is the sixth or the seventh: not a good bass on a strong beat."""
        return (pitch - self.root) % 12 in _WEAK

    def rank(self, pitch: int) -> int:
        """Order of preference for an alternate bass: fifth, root, third, others."""
        step = pitch % 12
        if step == self.fifth:
            return 0
        if step == self.root:
            return 1
        return 2 if (pitch - self.root) % 12 in (3, 4) else 3


@lru_cache(maxsize=1024)
def chord_tones(symbol: str, naming: str) -> ChordTones | None:
    """Return the tones of a chord symbol, None for a plain name, N.C., or what cannot be read."""
    if not symbol:
        return None
    from fretloom.trade.harmony.symbol import parse_symbol

    try:
        chord = parse_symbol(symbol, naming)
    except SymbolError:
        return None
    if not chord.pitch_classes:
        return None
    bass = chord.bass.pitch_class if chord.bass is not None else None
    return ChordTones(chord.root.pitch_class, bass, frozenset(chord.pitch_classes))
