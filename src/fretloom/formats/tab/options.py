"""Options of tab."""

from __future__ import annotations

from fretloom.formats.options import FormatOptions, number, switch
from fretloom.values import frozen


@frozen(kw_only=True)
class TabOptions(FormatOptions):
    """How a tab is written.

    Args:
        width: columns of the page, from 40 to 10000. Lines are broken at bar lines only; a wider bar has one to itself.
        unrolled: every bar is written as it is played, instead of each section once.
    """

    width: int = number(78, "columns of the page", least=40, most=10_000)
    unrolled: bool = switch("write every bar as it is played, not each section once and the form")
