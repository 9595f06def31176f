"""Options of recordings."""

from __future__ import annotations

from typing import Literal

from fretloom.formats.options import FormatOptions, one_of
from fretloom.values import frozen


@frozen(kw_only=True)
class RecordingOptions(FormatOptions):
    """How a recording is made.

    Args:
        clicks: "count-in" for clicks in bars that are counted in, "always", or "never".
    """

    clicks: Literal["count-in", "always", "never"] = one_of(
        ("count-in", "always", "never"), "when the beat is clicked"
    )
