"""What the strings of a voicing sound, for the hand that thinks in its names and for the ear."""

from __future__ import annotations

from collections.abc import Iterable

from fretloom.errors import SymbolError
from fretloom.performance.events import Settings
from fretloom.trade.guitar.tunings import tuning_shift
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.harmony.fit import fit
from fretloom.trade.harmony.symbol import ChordSymbol, parse_symbol
from fretloom.values import frozen


@frozen
class HeardString:
    """One string that a voicing plays.

    `hand` is the MIDI number in which its name thinks (without a full capo), `sounds` what is heard.
    """

    string: int
    fret: int
    hand: int
    sounds: int


#: For each string, highest number first, how far its sound lies above what a name thinks of.
Shifts = tuple[int, ...]


def heard(voicing: Voicing, settings: Settings, shifts: Shifts = ()) -> tuple[HeardString, ...]:
    """Return the strings a voicing plays, highest number first; empty if it is for another instrument.

    `shifts` are those of `name_shifts`; without it names mean what sounds without a full capo.
    """
    if len(voicing.frets) != settings.tuning.strings:
        return ()
    count = len(voicing.frets)
    return tuple(
        HeardString(
            count - index,
            fret,
            fingered(settings, count - index, fret) - (shifts[index] if shifts else 0),
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


def name_shifts(voicings: Iterable[Voicing], settings: Settings) -> Shifts:
    """Return how far the names of a lesson's voicings lie from what sounds without a full capo.

    On a guitar tuned down as a whole, most teachers go on calling the shape of E by the name of E;
    others say what sounds. The choice under which most of the lesson's names fit is taken, and of
    two equals that of the shapes. Under a partial capo names mean what sounds, unless the heading
    says that the hand plays in one key and another one sounds.
    """
    possible = _possible(settings)
    if len(possible) == 1:
        return possible[0] if any(possible[0]) else ()
    named = [(one, symbol) for one in voicings if (symbol := symbol_of(one, settings))]
    if not named:
        return ()

    def fitting(shifts: Shifts) -> int:
        return sum(
            fit(symbol, [string.hand for string in heard(voicing, settings, shifts)]).accepted
            for voicing, symbol in named
        )

    return max(possible, key=fitting)


def _possible(settings: Settings) -> list[Shifts]:
    """Return the shifts that are possible, those of the shapes first, without doubles."""
    strings = range(settings.tuning.strings, 0, -1)
    shift = tuning_shift(settings.tuning)
    from_nut = counted_from_nut(settings)
    raised = tuple(settings.capo.on(string) if from_nut else 0 for string in strings)
    return list(dict.fromkeys([tuple(shift + one for one in raised), raised]))


def counted_from_nut(settings: Settings) -> bool:
    """Whether names are counted from the nut, as if a partial capo were not there.

    The heading says so with two keys: `plays in D` and `sounds in E`.
    """
    plays, sounds = settings.plays, settings.sounds
    if not settings.capo.strings or plays is None or sounds is None:
        return False
    return plays.tonic.pitch_class != sounds.tonic.pitch_class


def sounding(settings: Settings, string: int, fret: int) -> int:
    """Return the MIDI number that a string sounds at a fret, capo included."""
    return settings.tuning.open_pitch(string).midi + settings.capo.on(string) + fret


def fingered(settings: Settings, string: int, fret: int) -> int:
    """Return the MIDI number in which the hand thinks: without a full capo, with a partial one.

    Chord symbols name what is fingered, so a full capo does not count; a partial capo changes what
    is fingered, as another tuning would.
    """
    capo = settings.capo
    raised = capo.on(string) if capo.strings else 0
    return settings.tuning.open_pitch(string).midi + raised + fret
