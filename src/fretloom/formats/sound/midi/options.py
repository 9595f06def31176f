"""Options of a MIDI file."""

from __future__ import annotations

from fretloom.formats.options import FormatOptions, switch
from fretloom.values import frozen


@frozen(kw_only=True)
class MidiOptions(FormatOptions):
    """What a MIDI file has besides the guitar.

    Args:
        clicks: a click on every beat, on a track of its own.
    """

    clicks: bool = switch("a click on every beat")
