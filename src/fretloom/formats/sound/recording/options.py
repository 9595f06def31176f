"""Options of recordings."""

from __future__ import annotations

from fretloom.formats.options import FormatOptions
from fretloom.formats.sound.clicking import Clicks, clicks_option
from fretloom.values import frozen


@frozen(kw_only=True)
class RecordingOptions(FormatOptions):
    """How a recording is made.

    Args:
        clicks: "count-in" for clicks in bars that are counted in, "always", or "never".
    """

    clicks: Clicks = clicks_option()
