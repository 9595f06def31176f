"""Options of the JSON of what is played."""

from __future__ import annotations

from fretloom.formats.options import FormatOptions
from fretloom.values import frozen


@frozen(kw_only=True)
class MusicJsonOptions(FormatOptions):
    """The JSON of what is played has no options."""
