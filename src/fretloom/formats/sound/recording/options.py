"""Options of recordings."""

from __future__ import annotations

from fretloom.formats.sound.choice import SoundOptions
from fretloom.values import frozen


@frozen(kw_only=True)
class RecordingOptions(SoundOptions):
    """What is recorded, as for every sound."""
