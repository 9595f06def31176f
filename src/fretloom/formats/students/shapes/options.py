"""Options of chord diagrams."""

from __future__ import annotations

from fretloom.formats.options import FormatOptions, number, switch
from fretloom.values import frozen


@frozen(kw_only=True)
class ShapeOptions(FormatOptions):
    """How chord diagrams are drawn.

    Args:
        mirrored: for a player who frets with the right hand: the bass is on the right, or with `lying`
            the nut is.
        lying: along the neck, string 1 on top as in tab, instead of upright.
        abreast: how many stand in a row, from 1 to 20.
        each: a file for each shape, instead of one sheet.
    """

    mirrored: bool = switch("as the hands of a left-handed player have it")
    lying: bool = switch("draw the neck lying, string 1 on top as in tab")
    abreast: int = number(4, "pictures in a row", least=1, most=20)
    each: bool = switch("write a file for each, not all on one sheet")


@frozen(kw_only=True)
class TextShapeOptions(FormatOptions):
    """How chord diagrams are written in plain text.

    Args:
        mirrored: for a player who frets with the right hand: the bass is on the right.
        width: columns of the page, from 40 to 10000.
    """

    mirrored: bool = switch("as the hands of a left-handed player have it")
    width: int = number(78, "columns of the page", least=40, most=10_000)
