"""Names the pitches of a bar as the page shows them, and finds the accidentals they need."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from functools import lru_cache
from math import lcm

from fretloom.engraving.heads import Head
from fretloom.engraving.spelling import Shown, in_signature, needs_accidental, spell_in_key
from fretloom.engraving.voices import Voice
from fretloom.errors import SymbolError
from fretloom.formats.musicxml.planning.page import Page, Transposition, moved
from fretloom.performance.events import TimedBar
from fretloom.performance.showing.shape_use import voicing_at
from fretloom.trade.harmony.symbol import ChordSymbol, parse_symbol
from fretloom.trade.music.pitch import NoteName, Pitch
from fretloom.values import frozen


@frozen
class Named:
    """The pitches of heads that stand together, and which of them need an accidental."""

    pitches: tuple[Pitch, ...] = ()
    signs: tuple[bool, ...] = ()


#: For each voice, for each of its chords: the grace notes before it in order, and its heads last.
NamedVoices = list[list[tuple[Named, ...]]]


def symbol_of(text: str, page: Page) -> ChordSymbol | None:
    """Read a chord symbol; None if it is empty or not a chord that fretloom knows."""
    return _read(text, page.naming)


@lru_cache(maxsize=1024)
def _read(text: str, naming: str) -> ChordSymbol | None:
    try:
        return parse_symbol(text, naming) if text else None
    except SymbolError:
        return None


def on_page(name: NoteName, page: Page) -> NoteName:
    """Return a root or bass as the page shows it."""
    return moved(name, page.chord_move) if page.chord_move else name


def named(
    voices: Sequence[Voice], bar: TimedBar, page: Page, tied: Mapping[int, Pitch]
) -> NamedVoices:
    """Name all that is written in a bar; `tied` has, by string, the names of what goes on from the bar before."""
    pitches = [
        [
            tuple([_pitches(heads, chord.start, bar, page, tied) for heads in chord.groups])
            for chord in voice.chords
        ]
        for voice in voices
    ]
    return _with_signs(voices, pitches, page.fifths)


def _pitches(
    heads: Sequence[Head], onset: Fraction, bar: TimedBar, page: Page, tied: Mapping[int, Pitch]
) -> tuple[Pitch, ...]:
    if not heads:
        return ()
    held = _symbol_at(onset, bar)
    shift, fifths, naming, move = page.shift, page.fifths, page.naming, page.chord_move
    found = [_spelled(head.midi - shift, fifths, held, naming, move) for head in heads]
    if tied:
        found = [
            tied.get(head.string, pitch) if head.tied_from else pitch
            for head, pitch in zip(heads, found, strict=True)
        ]
    return tuple(found)


def _symbol_at(onset: Fraction, bar: TimedBar) -> str:
    """Return the symbol of the voicing that is held at a place."""
    held = voicing_at(bar, onset)
    return held.symbol if held is not None else ""


@lru_cache(maxsize=4096)
def _spelled(midi: int, fifths: int, held: str, naming: str, move: Transposition | None) -> Pitch:
    symbol = _read(held, naming)
    names = symbol.notes if symbol is not None and symbol.quality is not None else ()
    return spell_in_key(midi, fifths, tuple(moved(name, move) if move else name for name in names))


def _with_signs(
    voices: Sequence[Voice], pitches: list[list[tuple[tuple[Pitch, ...], ...]]], fifths: int
) -> NamedVoices:
    """Find the accidentals, in order of time over the voices of the staff.

    What is tied over the bar line has none, and later notes do not go by it (common practice).
    """
    plain = all(
        in_signature(pitch, fifths)
        for voice in pitches for chord in voice for heads in chord for pitch in heads
    )  # fmt: skip
    if plain:
        return [
            [tuple([Named(names, (False,) * len(names)) for names in chord]) for chord in voice]
            for voice in pitches
        ]
    # Whole numbers are sorted much faster than fractions.
    unit = lcm(*(chord.start.denominator for voice in voices for chord in voice.chords))
    order = sorted(
        [
            (chord.start.numerator * (unit // chord.start.denominator), voice_at, chord_at)
            for voice_at, voice in enumerate(voices)
            for chord_at, chord in enumerate(voice.chords)
        ]
    )
    found: NamedVoices = [[()] * len(voice.chords) for voice in voices]
    shown: Shown = {}
    for _, voice_at, chord_at in order:
        groups = voices[voice_at].chords[chord_at].groups
        found[voice_at][chord_at] = tuple(
            [
                Named(names, _signs(heads, names, fifths, shown))
                for heads, names in zip(groups, pitches[voice_at][chord_at], strict=True)
            ]
        )
    return found


def _signs(
    heads: Sequence[Head], names: Sequence[Pitch], fifths: int, shown: Shown
) -> tuple[bool, ...]:
    pairs = zip(heads, names, strict=True)
    return tuple(
        [not head.tied_from and needs_accidental(pitch, fifths, shown) for head, pitch in pairs]
    )
