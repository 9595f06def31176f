"""How loud a page plays a lesson: reckoned from its notes, for a page does not measure."""

from __future__ import annotations

import math

from fretloom.formats.sound.guitar.constants import table, value
from fretloom.formats.sound.guitar.string.making import force_of
from fretloom.performance.events import Settings
from fretloom.performance.playback.sounds import Playback
from fretloom.trade.guitar.instruments import instrument_for

#: Decibels that a note of usual force and of `_COUNTS` seconds, once a second, needs to come to the level of recordings
#: (-18 LUFS), on strings of each family: what recordings of examples and of short lessons measured.
_NEEDS = {"steel": 0.8, "nylon": 5.7, "ukulele": 8.2, "electric": -5.6, "mandolin": 4.7}
#: Of a long note so many seconds count: it is loud at its beginning.
_COUNTS = 0.3
#: Decibels by which a lesson is made louder at most, and how much of a dead note is heard.
_MOST, _DEAD = 40.0, 0.15


def gain_of(playback: Playback, settings: Settings) -> float:
    """Return what the sound of a lesson is multiplied by, so that it comes near the level of recordings."""
    needs = _NEEDS[
        table("instruments")[instrument_for(settings.instrument, settings.tuning).name]["family"]
    ]
    seconds = playback.clock.seconds
    heard = 0.0
    for sound in playback.sounds:
        force = force_of(sound.loudness)
        force *= value("strings", "course_gain") if sound.mate else 1.0
        force *= _DEAD if sound.note.dead else 1.0
        lasts = float(seconds(sound.until) - seconds(sound.at))
        heard += force**2 * (1 - math.exp(-lasts / _COUNTS)) * _COUNTS
    if not heard:
        return 1.0
    decibels = needs - 10 * math.log10(heard / float(playback.seconds))
    return round(10 ** (min(decibels, _MOST) / 20), 3)
