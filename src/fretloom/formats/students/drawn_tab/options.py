"""Options of drawn tab."""

from __future__ import annotations

from fretloom.formats.options import FormatOptions, number, switch
from fretloom.values import frozen


@frozen(kw_only=True)
class DrawnTabOptions(FormatOptions):
    """How tab is drawn.

    Args:
        paper_width: how wide the picture is, in millimetres, from 60 to 1000; a bar that needs more makes it wider.
        bars_a_line: how many bars a line has at most, from 1 to 20.
        each: a file for each part of the song, instead of one for all.
        without_letters: leave out the letters of the picking fingers.
    """

    paper_width: int = number(176, "how wide the picture is, in millimetres", least=60, most=1000)
    bars_a_line: int = number(4, "bars in a line at most", least=1, most=20)
    each: bool = switch("write a file for each, not all on one sheet")
    without_letters: bool = switch("leave out the letters of the picking fingers")
