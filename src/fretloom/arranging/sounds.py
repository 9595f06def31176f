"""What a lesson sounds: each of its voicings, the key of it all, and the capos that would keep it."""

from __future__ import annotations

from fretloom.arranging.capo_places import CapoPlace, capo_places
from fretloom.performance.events import Settings, Timeline
from fretloom.performance.sounding.names import Sound, key_of, sounding_voicings
from fretloom.trade.harmony.key_guess import KeyGuess
from fretloom.values import frozen


@frozen(kw_only=True)
class Sounds:
    """What the voicings of a lesson sound.

    Args:
        settings: the heading with its defaults: title, keys, tuning, capo.
        key: what the chords of the performance suggest, as the hand thinks of it; None without chords.
        voicings: each voicing in written order.
        capos: places of the capo that keep the sound, from none upwards; empty where nothing can be
            said.
    """

    settings: Settings
    key: KeyGuess | None
    voicings: tuple[Sound, ...]
    capos: tuple[CapoPlace, ...]


def sounds_of(timeline: Timeline) -> Sounds:
    """Return what a lesson sounds."""
    return Sounds(
        settings=timeline.settings,
        key=key_of(timeline),
        voicings=sounding_voicings(timeline),
        capos=capo_places(timeline),
    )
