"""How the name over a diagram is set: smaller where it does not fit, cut where it cannot."""

from __future__ import annotations

from fretloom.characters import nothing_hidden
from fretloom.engraving.drawn.drawing import Letters
from fretloom.engraving.drawn.lettering import AFTER, width_of
from fretloom.text import drawn_signs
from fretloom.trade.wording import root_and_rest, with_signs

#: The room a name may take, in millimetres: that of one of four diagrams abreast on A4.
ROOM = 36.0
_CUT = "…"


def chord_name(name: str, size: float, least: float) -> Letters:
    """Set the name of a shape: the root of a chord bold, the rest smaller; a plain name bold as a whole.

    Args:
        size: in millimetres, where there is room. least: the size at which it is cut instead.
    """
    root, after = root_and_rest(name)
    return fitted(root, size, least, after=after)


def fitted(text: str, size: float, least: float, after: str = "") -> Letters:
    """Set a text in bold at the start of a line, `after` behind it as a chord's name has it."""
    wide = name_width(text, size, after)
    if wide > ROOM:
        size = max(least, size * ROOM / wide)
    if name_width(text, size, after) > ROOM + 1e-9:
        text, after = _cut(text, size, after)
    return Letters(at=(0, 0), text=text, after=after, size=size, anchor="start", bold=True)


def name_width(text: str, size: float, after: str = "") -> float:
    """Return how wide a name is, in millimetres."""
    return width_of(text, size, bold=True) + width_of(after, AFTER * size)


def printed(name: str) -> str:
    """Return a name as it stands on a page: on one line, with printed signs."""
    return with_signs(nothing_hidden(name))


def _cut(text: str, size: float, after: str) -> tuple[str, str]:
    """Leave out the end of a text, first of what goes on behind it."""
    left = ROOM - width_of(text, size, bold=True)
    if after and left > width_of(_CUT, AFTER * size):
        return text, _beginning(after, AFTER * size, left, bold=False)
    return _beginning(text, size, ROOM, bold=True), ""


def _beginning(text: str, size: float, room: float, *, bold: bool) -> str:
    """Return as much of a text as there is room for with the sign of a cut behind it."""
    kept, width = "", width_of(_CUT, size, bold)
    for sign in drawn_signs(text):
        width += width_of(sign, size, bold)
        if width > room:
            break
        kept += sign
    return kept + _CUT
