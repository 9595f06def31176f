"""Where the capo can stand for a lesson to sound in a key, and which shapes are played there."""

from __future__ import annotations

from attrs import evolve

from fretloom.arranging.common_shape import common_shape, has_common_shapes, is_open
from fretloom.performance.events import Timeline
from fretloom.performance.sounding.strings import name_shifts, symbol_of
from fretloom.trade.harmony.symbol import ChordSymbol
from fretloom.trade.harmony.transposing import transposed
from fretloom.trade.music.key import Key
from fretloom.values import frozen

#: Beyond this fret the neck gets short and thin in sound (common practice, no source).
HIGHEST = 7


@frozen(kw_only=True)
class CapoPlace:
    """A place of the capo with the key whose shapes are played there.

    Args:
        capo: its fret, 0 for none. plays: the key of the shapes; sounds: the sounding key.
        chords: the lesson's chords in that key.
        without_open: those of them without a common open shape on the lesson's tuning.
        now: whether this is how the lesson is written.
    """

    capo: int
    plays: Key
    sounds: Key
    chords: tuple[ChordSymbol, ...]
    without_open: tuple[ChordSymbol, ...]
    now: bool = False


def capo_places(timeline: Timeline) -> tuple[CapoPlace, ...]:
    """Return the places that keep the sound, from no capo upwards; none if nothing can be said.

    That is so without a key, under a partial capo, and on tunings whose common shapes are not known.
    """
    settings = timeline.settings
    shifts = name_shifts(timeline.voicings.values(), settings)
    known = has_common_shapes(settings, shifts)
    if settings.sounds is None or settings.capo.strings or not known:
        return ()
    return places_sounding(timeline, settings.sounds)


def places_sounding(
    timeline: Timeline, sounds: Key, highest: int = HIGHEST
) -> tuple[CapoPlace, ...]:
    """Return the places that give a sounding key, from no capo to fret `highest`; none without a playing key.

    For a lesson in minor, a `sounds` of C means C minor.
    """
    settings = timeline.settings
    now = settings.plays
    if now is None:
        return ()
    if sounds.mode == "major":
        sounds = evolve(sounds, mode=now.mode)
    named = [symbol_of(voicing, settings) for voicing in timeline.voicings.values()]
    symbols = list(dict.fromkeys(one for one in named if one is not None))
    shifts = name_shifts(timeline.voicings.values(), settings)
    places = []
    for fret in range(highest + 1):
        key = sounds.transposed(-fret)
        steps = (key.tonic.pitch_class - now.tonic.pitch_class) % 12
        stands = settings.capo.fret == fret and steps == 0
        chords = tuple(transposed(one, steps, key, settings.names) for one in symbols)
        barred = [one for one in chords if not is_open(common_shape(one, settings, shifts))]
        places.append(
            CapoPlace(
                capo=fret,
                plays=now if stands else key,
                sounds=sounds,
                chords=chords,
                without_open=tuple(one for one in barred if one.quality is not None),
                now=stands,
            )
        )
    return tuple(places)
