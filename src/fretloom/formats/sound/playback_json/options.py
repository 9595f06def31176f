"""Options of the JSON of what is heard."""

from __future__ import annotations

from fretloom.formats.sound.choice import SoundOptions
from fretloom.values import frozen


@frozen(kw_only=True)
class PlaybackOptions(SoundOptions):
    """What is heard, as for every sound."""
