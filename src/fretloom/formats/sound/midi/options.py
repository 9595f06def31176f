"""Options of a MIDI file."""

from __future__ import annotations

from fretloom.formats.options import FormatOptions
from fretloom.formats.sound.clicking import Clicks, clicks_option
from fretloom.values import frozen


@frozen(kw_only=True)
class MidiOptions(FormatOptions):
    """What a MIDI file has besides the guitar.

    Args:
        clicks: "count-in" for clicks in bars that are counted in, "always", or "never"; they have a track of their own.
    """

    clicks: Clicks = clicks_option()
