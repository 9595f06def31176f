"""Keeps words on the page: verovio writes each text where it begins, however long it is."""

from __future__ import annotations

import re
from collections.abc import Sequence
from xml.etree.ElementTree import Element as Tree

from fretloom.formats.pictures.drawing.runs import Chunk, number
from fretloom.values import frozen

#: Which share of a page's margin words may stand in.
_OF_MARGIN = 0.6
_BEFORE_ANCHOR = {"start": 0.0, "middle": 0.5, "end": 1.0}


@frozen
class WordRoom:
    """From where to where words may stand, in the units of a page, counted from its margin."""

    left: float
    right: float


def room_of(scale: Tree, width: float) -> WordRoom:
    """Return the room for words on a page of verovio's, whose margin is where it moves all of it."""
    found = (re.match(r"translate\(([\d.]+)", one.get("transform", "")) for one in scale)
    margin = next((float(one[1]) for one in found if one is not None), 0.0)
    reach = _OF_MARGIN * margin
    return WordRoom(-reach, width - 2 * margin + reach)


def fitting(
    chunks: Sequence[Chunk], boxes: Sequence[Tree], scale: float, room: WordRoom
) -> str | None:
    """Return how words become smaller by `scale`, and stand within their room: moved, or smaller still.

    Args:
        chunks: the words, of which the first begins where they belong. boxes: drawn around them.
    """
    ends = [end for chunk in chunks for end in _ends(chunk)]
    for box in boxes:
        left = float(box.get("x", 0))
        ends += [left, left + float(box.get("width", 0))]
    left, right, at = min(ends), max(ends), chunks[0]
    scale = min(scale, (room.right - room.left) / (right - left)) if right > left else scale
    left, right = (at.x + scale * (end - at.x) for end in (left, right))
    moved = max(room.left - left, 0.0) + min(room.right - right, 0.0)
    if scale == 1 and not moved:
        return None
    to = f"{number(at.x + moved)} {number(at.y)}"
    back = f"{number(-at.x)} {number(-at.y)}"
    return f"translate({to}) scale({number(scale)}) translate({back})"


def _ends(chunk: Chunk) -> tuple[float, float]:
    wide = sum(run.width for run in chunk.runs)
    left = chunk.x - wide * _BEFORE_ANCHOR[chunk.anchor]
    return left, left + wide
