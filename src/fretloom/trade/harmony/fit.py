"""How well sounding notes fit a chord symbol: plain verdicts, without strings and without text."""

from __future__ import annotations

from collections.abc import Iterable

from attrs import evolve

from fretloom.trade.harmony.degrees import Degree
from fretloom.trade.harmony.heard.mistaken import Mistaken, mistaken
from fretloom.trade.harmony.symbol import ChordSymbol
from fretloom.trade.music.pitch import NoteName, spell
from fretloom.values import frozen

#: The degree by which a tone from outside a chord is called, by semitones above the root.
_OUTSIDE = (
    *(Degree(1), Degree(9, -1), Degree(9), Degree(3, -1), Degree(3), Degree(11)),
    *(Degree(11, 1), Degree(5), Degree(13, -1), Degree(13), Degree(7, -1), Degree(7)),
)


@frozen
class Fit:
    """How sounding notes and a chord symbol agree.

    Args:
        missing: essential notes of the symbol that do not sound.
        foreign: sounding MIDI numbers that the symbol does not contain, lowest first.
        lowest: the lowest sounding MIDI number, None if nothing sounds.
        wrong_bass: the symbol names a slash bass that is not the lowest note.
        inverted: the symbol does not name a bass, and the root is not the lowest note.
        rootless: the root is left out, as it may be.
        unaltered: an "alt" chord without an altered tone.
        mistaken: all tones fit, but another chord is heard; None if it is not so.
    """

    symbol: ChordSymbol
    missing: tuple[NoteName, ...] = ()
    foreign: tuple[int, ...] = ()
    lowest: int | None = None
    wrong_bass: bool = False
    inverted: bool = False
    rootless: bool = False
    unaltered: bool = False
    mistaken: Mistaken | None = None

    @property
    def accepted(self) -> bool:
        """Whether the name is right: its essential tones and its bass sound, no foreign tone does, and it is heard."""
        return self.mistaken is None and self._tones_fit

    @property
    def _tones_fit(self) -> bool:
        return not (self.missing or self.foreign or self.wrong_bass or self.unaltered)


def fit(symbol: ChordSymbol, sounding: Iterable[int]) -> Fit:
    """Compare a chord symbol with the MIDI numbers that sound.

    The lowest note is judged by pitch, so re-entrant tunings need no special care. "No chord" only
    fits silence, as every note that sounds is foreign to it.
    """
    notes = sorted(sounding)
    if symbol.quality is None:
        return Fit(symbol, foreign=tuple(notes), lowest=notes[0] if notes else None)
    heard = {midi % 12 for midi in notes}
    lowest = notes[0] if notes else None
    lowest_class = None if lowest is None else lowest % 12
    root, bass = symbol.root.pitch_class, symbol.bass
    found = Fit(
        symbol,
        missing=tuple(note for note in symbol.essential if note.pitch_class not in heard),
        foreign=tuple(midi for midi in notes if midi % 12 not in symbol.pitch_classes),
        lowest=lowest,
        wrong_bass=bass is not None and lowest is not None and bass.pitch_class != lowest_class,
        inverted=bass is None and lowest is not None and lowest_class != root,
        rootless=root not in heard,
        unaltered=bool(symbol.quality.altered) and not heard & _altered_classes(symbol),
    )
    if lowest_class is None or not found._tones_fit:
        return found
    return evolve(found, mistaken=mistaken(symbol, frozenset(heard), lowest_class))


def _altered_classes(symbol: ChordSymbol) -> set[int]:
    return {one.above(symbol.root).pitch_class for one in symbol.degrees if one.number in (5, 9)}


def degree_in(symbol: ChordSymbol, pitch_class: int) -> Degree:
    """Return the degree a sounding tone has above the root, inside the chord or outside it."""
    inside = symbol.degree_of(pitch_class)
    return inside or _OUTSIDE[(pitch_class - symbol.root.pitch_class) % 12]


def note_in(symbol: ChordSymbol, pitch_class: int) -> NoteName:
    """Spell a sounding tone as a reader of the chord symbol expects it (D# in Em, Eb in Cm)."""
    if symbol.quality is None:
        return spell(60 + pitch_class).name
    if symbol.bass is not None and symbol.bass.pitch_class == pitch_class:
        return symbol.bass
    return degree_in(symbol, pitch_class).above(symbol.root)
