"""How much louder or softer a lesson is made: once for all that is heard of it."""

from __future__ import annotations

from itertools import islice

from fretloom.formats.sound.guitar.body import CHUNK
from fretloom.formats.sound.guitar.constants import RATE
from fretloom.formats.sound.guitar.mixing import Mix
from fretloom.formats.sound.recording.loudness import LoudnessMeter
from fretloom.performance.events import Settings
from fretloom.performance.playback.sounds import Playback
from fretloom.values import frozen

#: What a recording comes to, in LUFS.
TARGET = -18.0
#: Decibels by which something is made louder at most: what is nearly silent is meant to be.
_MOST = 40.0
#: Seconds of a lesson that say how loud it is.
_LISTENED = 180


@frozen
class Level:
    """What samples of the guitar are multiplied by."""

    gain: float


def level_for(loudness: float) -> Level:
    """Return the level that brings a loudness in LUFS to that of recordings."""
    if loudness < TARGET - _MOST:
        return Level(10 ** (_MOST / 20) if loudness > -70 else 1.0)
    return Level(10 ** ((TARGET - loudness) / 20))


def level_of(playback: Playback, settings: Settings) -> Level:
    """Return the level of a lesson, by its first three minutes, for all that is heard of it.

    Take the whole lesson, and give what this returns to every recording of a part: so a slow loop, or the thumb
    alone, is not louder than the song.
    """
    meter = LoudnessMeter()
    for chunk in islice(Mix(playback, settings).heard(), _LISTENED * RATE // CHUNK):
        meter.take(chunk)
    return level_for(meter.loudness())
