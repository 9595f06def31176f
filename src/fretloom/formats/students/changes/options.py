"""Options of the pictures of changes."""

from __future__ import annotations

from fretloom.formats.options import FormatOptions, number, one_of, switch
from fretloom.values import frozen


@frozen(kw_only=True)
class ChangeOptions(FormatOptions):
    """How the changes of a song are drawn.

    Args:
        order: `hardest`, which take longest first, or `played`, in order of appearance.
        mirrored: for a player who frets with the right hand.
        lying: along the neck, string 1 on top as in tab, instead of upright.
        abreast: how many stand in a row, from 1 to 20.
        each: a file for each change, instead of one sheet.
    """

    order: str = one_of(("hardest", "played"), "which changes come first")
    mirrored: bool = switch("as the hands of a left-handed player have it")
    lying: bool = switch("draw the neck lying, string 1 on top as in tab")
    abreast: int = number(4, "pictures in a row", least=1, most=20)
    each: bool = switch("write a file for each, not all on one sheet")
