"""What the strings of a voicing sound, for the hand that thinks in its names and for the ear."""

from __future__ import annotations

from collections.abc import Iterable

from attrs import frozen

from fretloom.errors import SymbolError
from fretloom.guitar.tuning import Tuning
from fretloom.guitar.tunings import usual_tuning
from fretloom.guitar.voicing import Voicing
from fretloom.harmony.fit import fit
from fretloom.harmony.symbol import ChordSymbol, parse_symbol
from fretloom.timeline.events import Settings
from fretloom.timeline.settings import fingered, sounding


@frozen
class HeardString:
    """One string that a voicing plays.

    `hand` is the MIDI number in which its name thinks (without a full capo), `sounds` what is heard.
    """

    string: int
    fret: int
    hand: int
    sounds: int


def heard(voicing: Voicing, settings: Settings, shift: int = 0) -> tuple[HeardString, ...]:
    """Return the strings a voicing plays, highest number first; none if its strings are too many.

    `shift` is that of `naming_shift`.
    """
    if len(voicing.frets) != settings.tuning.strings:
        return ()
    count = len(voicing.frets)
    return tuple(
        HeardString(
            count - index,
            fret,
            fingered(settings, count - index, fret) - shift,
            sounding(settings, count - index, fret),
        )
        for index, fret in enumerate(voicing.frets)
        if fret is not None
    )


def symbol_of(voicing: Voicing, settings: Settings) -> ChordSymbol | None:
    """Return a voicing's chord symbol; None for a plain name or one that cannot be read."""
    if not voicing.symbol:
        return None
    try:
        return parse_symbol(voicing.symbol, settings.names)
    except SymbolError:
        return None


def tuning_shift(tuning: Tuning) -> int:
    """Return by how many semitones all strings lie above the usual tuning, 0 if not all alike.

    -1 a half step down, -5 on a baritone guitar, whose usual tuning is taken to be the guitar's.
    """
    usual = _GUITAR if tuning.strings == len(_GUITAR) else _open_strings(usual_tuning(tuning))
    own = _open_strings(tuning)
    shifts = {mine - theirs for mine, theirs in zip(own, usual, strict=False)}
    return shifts.pop() if len(shifts) == 1 and usual else 0


_GUITAR = (40, 45, 50, 55, 59, 64)


def _open_strings(tuning: Tuning | None) -> tuple[int, ...]:
    return tuple(pitch.midi for pitch in tuning.pitches) if tuning else ()


def naming_shift(voicings: Iterable[Voicing], settings: Settings) -> int:
    """Return how far the names of a lesson's voicings lie from what sounds without the capo.

    On a guitar tuned down as a whole, most teachers go on calling the shape of E by the name of E;
    others say what sounds. The reading is taken under which more of the lesson's names fit.
    """
    shift = tuning_shift(settings.tuning)
    if shift == 0:
        return 0
    fits = {0: 0, shift: 0}
    for voicing in voicings:
        symbol = symbol_of(voicing, settings)
        if symbol is not None:
            for way in fits:
                notes = [one.hand for one in heard(voicing, settings, way)]
                fits[way] += fit(symbol, notes).accepted
    return shift if fits[shift] >= fits[0] else 0
