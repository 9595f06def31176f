"""How a wall card finds room on one sheet of paper: how small it is printed, and how its shapes stand.

Heights are reckoned from the sizes of the pictures and the widths of the letters, as the style sheet lays
them out, in millimetres.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from fretloom.engraving.drawn.lettering import width_of, wrapped
from fretloom.formats.students.handout.artist import PATTERN_GAP
from fretloom.formats.students.handout.lettering import MARGINS, PAPERS
from fretloom.formats.students.handout.parts.all_parts import Parts, ShownPattern, ShownShape
from fretloom.formats.students.handout.parts.road_part import RoadRow, cells_across, road_rows
from fretloom.formats.students.telling.head import PageHead
from fretloom.trade.phrases.table import say
from fretloom.values import frozen

#: How small a card is printed, the largest first; where none is enough, it takes several sheets.
SCALES = (1.0, 0.95, 0.9, 0.85, 0.8, 0.75, 0.7)
#: So much of the paper is filled by the reckoning, for what it does not see.
_FILLED = 0.985
#: The size of letters and the height of a line: usual ones, small ones, those of headings.
_TEXT, _LINE = 3.704, 5.26
_SMALL, _SMALL_LINE = 0.9 * _TEXT, 1.35 * 0.9 * _TEXT
_HEADING_LINE = 1.18 * 1.25 * _TEXT
#: Around a part: its rule, what is above and below, its name.
_PART = 0.5 + 2.4 + 3.6 + 1.3 * _TEXT + 1.6
#: Shapes are as many in a row as these at least; between two of them is so much.
_FEWEST, _BETWEEN = 4, 1.5
_SIZE = re.compile(r'<svg width="([\d.]+)mm" height="([\d.]+)mm"')


@frozen
class CardFit:
    """How a card is laid out.

    Args:
        scale: how small it is printed. shape: how wide a shape's place is, in millimetres before that.
        whole: whether it is all on one sheet.
    """

    scale: float
    shape: float
    whole: bool = True


def card_fit(parts: Parts, head: PageHead, paper: str) -> CardFit:
    """Return how the card of a lesson is laid out on a paper: as large as one sheet has room for."""
    top, right, bottom, left = MARGINS
    width, height = PAPERS[paper]
    tries = [(one, *_laid(parts, head, (width - left - right) / one)) for one in SCALES]
    room = _FILLED * (height - top - bottom)
    for scale, across, needed in tries:
        if scale * needed <= room:
            return CardFit(scale, _share((width - left - right) / scale, across))
    scale, across, _ = next(
        (one for one in tries if one[0] * one[2] <= 2 * _FILLED * room), tries[-1]
    )
    return CardFit(scale, _share((width - left - right) / scale, across), whole=False)


def _share(width: float, across: int) -> float:
    return int(10 * width / across) / 10


def _laid(parts: Parts, head: PageHead, width: float) -> tuple[int, float]:
    """Return how many shapes stand in a row, and how high the card is, if it is so wide."""
    neck = parts.artist.neck()
    across, shapes = _shapes(parts.shown_shapes, width)
    shapes += _small_lines(parts.shapes_hint, width)
    rows = road_rows(parts.road, cells_across(parts.road, large=False))
    road = _PART + sum(_road_row(one, width) for one in rows)
    patterns = _patterns(*parts.patterns, width)
    rights = 2.5 + 1.42 * _SMALL if head.rights or head.capo.fret else 0.0
    return across, _head(head, neck, width) + road + shapes + patterns + rights


def _head(head: PageHead, neck: str | None, width: float) -> float:
    beside, height = _size(neck) if neck else (0.0, 0.0)
    title = _lines(head.title, 2.3 * _TEXT, width - beside - 6.0, bold=True) * 2.3 * 1.05 * _TEXT
    rows, taken = 1, 0.0
    for fact in head.facts:
        wide = max(width_of(fact.label, 0.82 * _TEXT), width_of(fact.value, 1.18 * _TEXT)) + 8.5
        if taken and taken + wide > width:
            rows, taken = rows + 1, 0.0
        taken += wide
    facts = 3.0 + rows * (1.3 * (0.82 + 1.18) * _TEXT + 1.6)
    care = 0.0
    if head.retuning:
        words = " ".join([say("pages.retune"), *head.retuning])
        care = 4.8 + _lines(words, _TEXT, width - 6.0) * _LINE
    return max(title + _LINE * bool(head.by), height) + facts + care + 4.4


def _road_row(row: RoadRow, width: float) -> float:
    hints = [row.block.words] if row.block.words and not row.block.played_before else []
    text = sum(_small_lines(one, width - 28.5) for one in [*hints, *row.block.hints])
    return max(11.0, 8.6 * len(row.lines) + text + 2.2)


def _shapes(shapes: Sequence[ShownShape], width: float) -> tuple[int, float]:
    """Return how many shapes stand in a row, and how high the part is: as low as it gets, then as few as do it."""
    if not shapes:
        return _FEWEST, 0.0
    widest = max(_size(one.svg)[0] for one in shapes)
    most = max(int(width / (widest + 0.6)), _FEWEST)
    heights = {}
    for across in range(_FEWEST, most + 1):
        # The rows are equally full.
        rows = -(-len(shapes) // across)
        if across == _FEWEST or -(-len(shapes) // rows) == across:
            heights[across] = sum(
                max(_shape(one, width / across) for one in shapes[at : at + across])
                for at in range(0, len(shapes), across)
            )
    across = min(heights, key=lambda one: (round(heights[one], 3), one))
    return across, _PART + 2.0 + heights[across]


def _shape(shape: ShownShape, width: float) -> float:
    return _size(shape.svg)[1] + _small_lines(" ".join(shape.hints), width - _BETWEEN) + 3.0


def _patterns(shared: Sequence[str], patterns: Sequence[ShownPattern], width: float) -> float:
    if not patterns:
        return 0.0
    rows, taken = [0.0], 0.0
    for one in patterns:
        wide = min(one.wide, width)
        if taken and taken + wide > width:
            rows, taken = [*rows, 0.0], 0.0
        rows[-1], taken = max(rows[-1], _pattern(one, wide - PATTERN_GAP)), taken + wide
    over = sum(_small_lines(word, width) for word in shared)
    return _PART + over + sum(rows)


def _pattern(one: ShownPattern, width: float) -> float:
    words = sum(_small_lines(word, width) for word in one.words)
    title = _lines(one.title, 1.18 * _TEXT, width, bold=True) * _HEADING_LINE
    return 2.6 + title + one.picture.height + 1.4 * len(one.picture.lines) + words


def _small_lines(text: str, width: float) -> float:
    return _lines(text, _SMALL, width) * _SMALL_LINE if text else 0.0


def _lines(text: str, size: float, width: float, *, bold: bool = False) -> int:
    return max(len(wrapped(text, size * (1.06 if bold else 1.0), max(width, 1.0))), 1)


def _size(svg: str) -> tuple[float, float]:
    """Return the width and height that a picture on the page says it has."""
    found = _SIZE.search(svg)
    assert found is not None
    return float(found[1]), float(found[2])
