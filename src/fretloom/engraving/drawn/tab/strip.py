"""Draws the bars of a section in one scale, with the letters of the strings beside them."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from attrs import evolve

from fretloom.engraving.drawn.drawing import Drawing, scaled
from fretloom.engraving.drawn.tab.bar_picture import BarPicture
from fretloom.engraving.drawn.tab.levels import Levels, deepest
from fretloom.engraving.drawn.tab.painting import ground
from fretloom.engraving.drawn.tab.placing.spacing import Places, Scale, placed, scale_of
from fretloom.engraving.drawn.tab.spoken import bar_title
from fretloom.engraving.drawn.tab.values import (
    LETTERS_WIDTH,
    SLOT,
    TAIL,
    Strip,
    StripBar,
    TabLook,
    line_edges,
)
from fretloom.performance.events import Settings

#: Bars are widened by no more than this to fill a line.
_WIDEST = 1.55
#: So often the room of a scale is halved to find one: to a hundredth of a millimetre.
_HALVINGS = 12


def strip(bars: Sequence[StripBar], settings: Settings, look: TabLook) -> Strip:
    """Draw bars that belong together, to one scale of time.

    A bar that is the same as the one before says so, but where it begins a line of `per_line` bars.
    The letters before a bar have its number, and are meant for the first bar of a line; so `letters`
    has a drawing for each bar, and not one for all.
    """
    return arranged([BarPicture(one, settings, look, one.again) for one in bars], SLOT)


def arranged(folded: Sequence[BarPicture], slot: float) -> Strip:
    """Draw pictures of bars to one scale, `slot` millimetres for the smallest distance of two places."""
    if not folded:
        return Strip(letters=(), bars=(), per_line=1)
    settings, look = folded[0].settings, folded[0].look
    scale = scale_of([one.crowd for one in folded], slot)
    per_line, scale = _in_lines(folded, scale, look)
    pickup = _is_pickup(folded)
    edges = line_edges(len(folded), per_line, pickup)
    letters, drawn = list[Drawing](), list[Drawing]()
    for begin, end in pairwise(edges):
        first, *others = folded[begin:end]
        whole = evolve(first, blank=False) if first.blank else first
        more, line = _line([whole, *others], scale, settings)
        letters += more
        drawn += line
    return Strip(
        letters=_scaled(letters, look.k), bars=_scaled(drawn, look.k), per_line=per_line, pickup=pickup
    )  # fmt: skip


def _in_lines(folded: Sequence[BarPicture], scale: Scale, look: TabLook) -> tuple[int, Scale]:
    """Return how many bars a line has, and the scale in which they fill it if that is asked for."""
    room = look.bar_room + 1e-6
    pickup = folded[0].one.bar if _is_pickup(folded) else None
    count = len(folded) - (pickup is not None)
    if not look.filled:
        widths = [placed(evolve(one.crowd, over=0.0), scale).width for one in folded]
        before = widths.pop(0) if pickup is not None else 0.0
        per_line = _per_line(count, int((room - before) // max(widths)), look)
        return _fewer(folded, per_line, scale, look), scale
    longest = max(one.one.bar.length for one in folded)
    edge = scale.lead + TAIL

    def quarter(bars: int) -> float:
        """Return how wide a quarter note is if this number of bars fills a line."""
        parts, length = bars, bars * longest
        if pickup is not None:
            parts, length = parts + 1, length + pickup.length
        return (look.bar_room - parts * edge) / float(length)

    fit = next((bars for bars in range(look.abreast, 1, -1) if quarter(bars) >= scale.least), 1)
    tightest = evolve(scale, quarter=scale.least)
    per_line = _fewer(folded, _per_line(count, fit, look), tightest, look)
    wide = max(min(quarter(per_line), _WIDEST * scale.quarter), scale.least)
    return per_line, _narrowed(folded, per_line, evolve(scale, quarter=wide), room)


def _fewer(folded: Sequence[BarPicture], per_line: int, scale: Scale, look: TabLook) -> int:
    """Return how many bars a line has if words may make some of them wider: as many, or fewer."""
    count = len(folded) - _is_pickup(folded)
    while per_line > 1 and _widest(folded, per_line, scale) > look.bar_room + 1e-6:
        per_line = _per_line(count, per_line - 1, look)
    return per_line


def _widest(folded: Sequence[BarPicture], per_line: int, scale: Scale) -> float:
    """Return how wide the widest line is."""
    widths = [placed(one.crowd, scale).width for one in folded]
    edges = line_edges(len(folded), per_line, _is_pickup(folded))
    return max(sum(widths[begin:end]) for begin, end in pairwise(edges))


def _narrowed(folded: Sequence[BarPicture], per_line: int, scale: Scale, room: float) -> Scale:
    """Return a scale in which all lines have room, those too where words make a bar wider; if there is one."""
    if _widest(folded, per_line, scale) <= room:
        return scale
    small, large = scale.least, scale.quarter
    for _ in range(_HALVINGS):
        middle = (small + large) / 2
        fits = _widest(folded, per_line, evolve(scale, quarter=middle)) <= room
        small, large = (middle, large) if fits else (small, middle)
    return evolve(scale, quarter=small)


def _is_pickup(folded: Sequence[BarPicture]) -> bool:
    return len(folded) > 1 and folded[0].one.bar.kind == "pickup"


def _per_line(count: int, fit: int, look: TabLook) -> int:
    """Return how many bars a line has: as many as find room; three only where the bars come in threes."""
    fit = max(min(fit, look.abreast), 1)
    return 2 if fit == 3 and count > 3 and count % 3 and count % 2 == 0 else fit


def _line(
    pictures: Sequence[BarPicture], scale: Scale, settings: Settings
) -> tuple[list[Drawing], list[Drawing]]:
    """Draw bars that stand in a line together, and the letters before each."""
    places: list[Places] = [placed(one.crowd, scale) for one in pictures]
    levels = deepest(one.levels(where.width) for one, where in zip(pictures, places, strict=True))
    drawn = [one.drawing(where, levels) for one, where in zip(pictures, places, strict=True)]
    return [_letters(one.one, levels, settings) for one in pictures], drawn


def _letters(one: StripBar, levels: Levels, settings: Settings) -> Drawing:
    return Drawing(
        width=LETTERS_WIDTH,
        height=levels.height,
        marks=tuple(ground.string_letters(settings, levels, one.label)),
        title=bar_title(one),
    )


def _scaled(pictures: Sequence[Drawing], k: float) -> tuple[Drawing, ...]:
    return tuple(pictures) if k == 1 else tuple(scaled(one, k) for one in pictures)
