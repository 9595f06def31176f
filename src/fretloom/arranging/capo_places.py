"""Where the capo can stand for a lesson to sound in its key, and how many barres each place costs."""

from __future__ import annotations

from fretloom.performance.events import Timeline
from fretloom.performance.sounding.strings import symbol_of
from fretloom.trade.guitar.common_shapes import movable_shape, open_shape
from fretloom.trade.guitar.tunings import parse_tuning
from fretloom.trade.harmony.symbol import ChordSymbol
from fretloom.trade.harmony.transposing import transposed
from fretloom.trade.music.key import Key
from fretloom.values import frozen

#: Beyond this fret a capo is seldom put (common practice, no source).
HIGHEST = 7


@frozen
class CapoPlace:
    """A place of the capo with the key whose shapes are played there.

    `chords` are the lesson's chords in that key, `barres` those of them without a common open shape.
    """

    fret: int
    plays: Key
    chords: tuple[ChordSymbol, ...]
    barres: tuple[ChordSymbol, ...]


def capo_places(timeline: Timeline) -> tuple[CapoPlace, ...]:
    """Return the choices from no capo upwards; none if there is nothing to say.

    That is so without a key, under a partial capo, and on tunings whose common shapes are not known.
    """
    settings = timeline.settings
    plays, sounds = settings.plays, settings.sounds
    if plays is None or sounds is None or settings.capo.strings or not _is_standard(timeline):
        return ()
    named = [symbol_of(voicing, settings) for voicing in timeline.voicings.values()]
    symbols = list(dict.fromkeys(one for one in named if one is not None))
    choices = []
    for fret in range(HIGHEST + 1):
        key = sounds.transposed(-fret)
        steps = key.tonic.pitch_class - plays.tonic.pitch_class
        chords = tuple(transposed(one, steps, key, settings.names) for one in symbols)
        barres = tuple(one for one in chords if _needs_barre(one))
        choices.append(CapoPlace(fret, key, chords, barres))
    return tuple(choices)


def _is_standard(timeline: Timeline) -> bool:
    return timeline.settings.tuning.pitches == parse_tuning("standard").pitches


def _needs_barre(symbol: ChordSymbol) -> bool:
    """Whether a chord has no common shape with an open string."""
    if symbol.quality is None:
        return False
    shape = open_shape(symbol.canonical)
    if shape is None and symbol.bass is None:
        shape = movable_shape(symbol.root.pitch_class, symbol.quality.suffix)
    return shape is None or 0 not in shape
