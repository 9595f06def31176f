"""What a student ticks: the tempo ladder as stairs, boxes for days, boxes for a number."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from fretloom.engraving.drawn.drawing import Box, Drawing, DrawnLine, Letters, Mark
from fretloom.engraving.drawn.lettering import width_of
from fretloom.text import listed
from fretloom.trade.music.tempo import number_words
from fretloom.trade.phrases.table import phrases, say

#: A box for a tick, in millimetres, the gap to the next, and how round it is.
_BOX, _GAP, _ROUND, _LINE = 4.0, 0.8, 0.4, 0.35
#: How much longer a stair is than its boxes, how much higher than the one before, how far they stand above it.
_LONGER, _RISE, _ABOVE = 2.0, 1.7, 0.5
_TEMPO, _BELOW = 3.4, 3.4
_EDGE = 0.5
#: Boxes for days and boxes to write a number in: width, height, and from one to the next.
_DAY, _DAYS_APART = 4.2, 6.0
_NUMBER, _NUMBER_HEIGHT, _NUMBERS_APART = 13.0, 7.0, 15.5


def stairs(tempos: Sequence[int | Fraction], boxes: int = 3) -> Drawing:
    """Draw a tempo ladder as stairs, with boxes to tick on each.

    Args:
        tempos: beats a minute, from the first stair up; 3 to 5 fit beside a picture.
        boxes: on each stair, one at least: one for each good turn.

    Raises:
        ValueError: there is no tempo, or no box.
    """
    if not tempos or boxes < 1:
        raise ValueError("a ladder has a tempo and a box at the least")
    texts = [number_words(Fraction(one)) for one in tempos]
    step = max(
        boxes * (_BOX + _GAP) - _GAP + _LONGER,
        *(width_of(text, _TEMPO, bold=True) + 1.2 for text in texts),
    )
    ground = _EDGE + _BOX + _ABOVE + _RISE * (len(texts) - 1)
    return Drawing(
        width=step * len(texts) + 2 * _EDGE,
        height=ground + _BELOW + 0.9,
        marks=tuple(_stairs(texts, boxes, step, ground)),
        title=say("drawn.ladder", tempos=listed(texts[:1] + texts[1:][-1:], say("drawn.to"))),
        says=_ladder_words(texts, boxes),
        signs=frozenset({"good-turn"}),
    )


def day_boxes(days: int) -> Drawing:
    """Draw a box for each day.

    Raises:
        ValueError: there is no day.
    """
    says = say("drawn.day" if days == 1 else "drawn.days", number=_number(days))
    return _row(days, (_DAY, _DAY), _DAYS_APART, says)


def number_boxes(days: int) -> Drawing:
    """Draw a box for each day in which a number is written.

    Raises:
        ValueError: there is no day.
    """
    says = say("drawn.number" if days == 1 else "drawn.numbers", number=_number(days))
    return _row(days, (_NUMBER, _NUMBER_HEIGHT), _NUMBERS_APART, says)


def tick_boxes(count: int, left: float, top: float) -> Iterator[Mark]:
    """Draw boxes for ticks side by side."""
    for place in range(count):
        yield _box(left + place * (_BOX + _GAP), top, _BOX, _BOX)


def _stairs(texts: Sequence[str], boxes: int, step: float, ground: float) -> Iterator[Mark]:
    points = list[tuple[float, float]]()
    for at in range(len(texts)):
        x, y = _EDGE + at * step, ground - at * _RISE
        points += [(x, y), (x + step, y)]
    yield DrawnLine(points=tuple(points), width=_LINE, ink="ink")
    for at, text in enumerate(texts):
        x, y = points[2 * at]
        yield from tick_boxes(boxes, x + 0.8, y - _ABOVE - _BOX)
        yield Letters(
            at=(x + 0.4, y + _BELOW), text=text, size=_TEMPO, anchor="start",
            bold=at in (0, len(texts) - 1),
        )  # fmt: skip


def _row(count: int, size: tuple[float, float], apart: float, says: str) -> Drawing:
    if count < 1:
        raise ValueError("there is a box at the least")
    width, height = size
    return Drawing(
        width=apart * (count - 1) + width + 2 * _EDGE,
        height=height + 2 * _EDGE,
        marks=tuple(_box(_EDGE + apart * at, _EDGE, width, height) for at in range(count)),
        title=says,
    )


def _box(left: float, top: float, width: float, height: float) -> Box:
    return Box(
        at=(left, top), width=width, height=height, radius=_ROUND, line="ink", line_width=_LINE
    )


def _ladder_words(texts: Sequence[str], boxes: int) -> str:
    """Say "Tempo ladder 60, 72, 84, 96; three boxes each."."""
    key = "drawn.ladder-box" if boxes == 1 else "drawn.ladder-boxes"
    return say(key, tempos=", ".join(texts), number=_number(boxes))


def _number(number: int) -> str:
    """Say a small number as a word."""
    return phrases().get(f"hands.number-{number}", str(number))
