"""What every voicing of a lesson sounds: strings, notes, degrees, names."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from fretloom.performance.events import Settings, Timeline
from fretloom.performance.sounding.strings import HeardString, heard, name_shifts, symbol_of
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.harmony.fit import Fit, fit, note_in
from fretloom.trade.harmony.heard.also import said_names
from fretloom.trade.harmony.key_guess import KeyGuess, guess_key
from fretloom.trade.harmony.naming import ChordName, names_of
from fretloom.trade.harmony.note_names import write_note
from fretloom.trade.harmony.symbol import ChordSymbol
from fretloom.trade.harmony.transposing import transposed
from fretloom.trade.music.pitch import STEP_SEMITONES, NoteName, spell
from fretloom.values import frozen

#: Names whose cost lies farther than this above the first are not listed; nearer for rootless ones.
_FAR, _FAR_ROOTLESS = 6.5, 4.0
_MOST_NAMES = 4


@frozen
class Sound:
    """One voicing and what it sounds.

    Args:
        symbol: the name given, if it is a chord symbol, else the best one found; None if there is none.
        fit: the verdict on the name given; None for a plain name.
        others: further names that are right, best first.
        sounding: the name that other players need: the given (or best) name raised by the capo; None if there is none.
    """

    voicing: Voicing
    strings: tuple[HeardString, ...]
    symbol: ChordSymbol | None
    fit: Fit | None
    others: tuple[ChordName, ...]
    sounding: ChordSymbol | None


def sounding_voicings(timeline: Timeline) -> tuple[Sound, ...]:
    """Return what each voicing of a lesson sounds, in written order."""
    settings = timeline.settings
    shifts = name_shifts(timeline.voicings.values(), settings)
    return tuple(
        _sound(voicing, settings, heard(voicing, settings, shifts))
        for voicing in timeline.voicings.values()
        if not voicing.silent
    )


def sound_of(timeline: Timeline, voicing: Voicing) -> Sound:
    """Return what one voicing of a lesson sounds."""
    settings = timeline.settings
    shifts = name_shifts(timeline.voicings.values(), settings)
    return _sound(voicing, settings, heard(voicing, settings, shifts))


def _sound(voicing: Voicing, settings: Settings, strings: tuple[HeardString, ...]) -> Sound:
    notes = [one.hand for one in strings]
    given = symbol_of(voicing, settings)
    names = names_of(notes, settings.plays)
    symbol = given or (names[0].symbol if names else None)
    said = said_names(notes, settings.plays, symbol)
    near = [name for name in said if _is_near(name, names[0]) and not _same(name.symbol, symbol)]
    return Sound(
        voicing=voicing,
        strings=strings,
        symbol=symbol,
        fit=fit(given, notes) if given else None,
        others=tuple(near[:_MOST_NAMES]),
        sounding=_sounding_name(symbol, strings, settings) if symbol else None,
    )


def _is_near(name: ChordName, best: ChordName) -> bool:
    return name.cost <= best.cost + (_FAR_ROOTLESS if name.rootless else _FAR)


def _same(one: ChordSymbol, other: ChordSymbol | None) -> bool:
    """Whether two symbols mean the same chord, however they are spelled."""
    if other is None or one.quality != other.quality:
        return False
    return [note and note.pitch_class for note in (one.root, one.bass)] == [
        note and note.pitch_class for note in (other.root, other.bass)
    ]


def _sounding_name(
    symbol: ChordSymbol, strings: tuple[HeardString, ...], settings: Settings
) -> ChordSymbol | None:
    """Return the name of what is heard; with a partial capo, that of the notes themselves."""
    raised = {one.sounds - one.hand for one in strings}
    if len(raised) == 1:
        return transposed(symbol, raised.pop(), settings.sounds, settings.names)
    names = names_of([one.sounds for one in strings], settings.sounds)
    return names[0].symbol if names else None


def key_of(timeline: Timeline) -> KeyGuess | None:
    """Return the key that the chords of the performance suggest, as the hand thinks of it."""
    chords = [
        (symbol, end - onset)
        for played in timeline.bars
        for onset, end, voicing in _held(played.bar.voicings, played.bar.length)
        if (symbol := symbol_of(voicing, timeline.settings)) is not None
    ]
    return guess_key(chords)


def _held(voicings: Any, length: Fraction) -> Iterator[tuple[Fraction, Fraction, Voicing]]:
    ends = [one.onset for one in voicings[1:]] + [length]
    for one, end in zip(voicings, ends, strict=False):  # A bar of rest has an end, but no voicing.
        yield one.onset, end, one.voicing


def note_of(sound: Sound, one: HeardString) -> NoteName:
    """Return the note a string sounds for the hand, spelled as the chord symbol needs it."""
    if sound.symbol is None:
        return spell(one.hand).name
    return note_in(sound.symbol, one.hand % 12)


def heard_name(sound: Sound, one: HeardString, settings: Settings) -> str:
    """Return the sounding note with its octave, spelled as the sounding name needs it."""
    note = spell(one.sounds).name
    if sound.symbol is not None and sound.symbol.quality is not None:
        moved = transposed(sound.symbol, one.sounds - one.hand, settings.sounds)
        note = note_in(moved, one.sounds % 12)
    octave = (one.sounds - STEP_SEMITONES[note.step] - note.alter) // 12 - 1
    return f"{write_note(note, settings.names)}{octave}"
