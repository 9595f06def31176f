"""When the beat is clicked: declared once for all formats that are heard."""

from __future__ import annotations

from typing import Any, Literal, TypeAlias, get_args

from fretloom.formats.options import one_of
from fretloom.performance.playback.sounds import BarTime

#: In bars that are counted in, in all bars, in none.
Clicks: TypeAlias = Literal["count-in", "always", "never"]


def clicks_option() -> Any:
    """Declare the option of a format."""
    return one_of(get_args(Clicks), "when the beat is clicked")


def clicked_bar(clicks: Clicks, bar: BarTime) -> bool:
    """Whether a bar is clicked: of those that sound none, unless all are."""
    return clicks == "always" or (clicks == "count-in" and bar.silent)
