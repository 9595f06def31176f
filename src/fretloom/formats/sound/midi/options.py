"""Options of a MIDI file."""

from __future__ import annotations

from fretloom.formats.sound.choice import SoundOptions
from fretloom.values import frozen


@frozen(kw_only=True)
class MidiOptions(SoundOptions):
    """What is played, as for every sound; clicks have a track of their own."""
