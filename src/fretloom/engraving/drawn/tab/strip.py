"""Draws the bars of a section in one scale, with the letters of the strings beside them."""

from __future__ import annotations

from collections.abc import Sequence

from attrs import evolve

from fretloom.engraving.drawn.drawing import Drawing, scaled
from fretloom.engraving.drawn.tab.bar_picture import BarPicture
from fretloom.engraving.drawn.tab.levels import Levels, deepest
from fretloom.engraving.drawn.tab.painting import ground
from fretloom.engraving.drawn.tab.placing.spacing import Places, Scale, placed, scale_of
from fretloom.engraving.drawn.tab.spoken import bar_title
from fretloom.engraving.drawn.tab.values import LETTERS_WIDTH, SLOT, TAIL, Strip, StripBar, TabLook
from fretloom.performance.events import Settings

#: Bars are widened by no more than this to fill a line.
_WIDEST = 1.55


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
    room = look.width / look.k - LETTERS_WIDTH
    width = max(placed(one.crowd, scale).width for one in folded)
    per_line = _per_line(len(folded), width, room, look.abreast)
    if look.filled:
        longest = max(picture.one.bar.length for picture in folded)
        wide = min(room / per_line, _WIDEST * width)
        quarter = (wide - scale.lead - TAIL) / float(longest)
        scale = Scale(max(quarter, scale.quarter), scale.lead)
    pictures = [
        one if at % per_line or not one.blank else evolve(one, blank=False)
        for at, one in enumerate(folded)
    ]
    letters, drawn = list[Drawing](), list[Drawing]()
    for at in range(0, len(pictures), per_line):
        more, line = _line(pictures[at : at + per_line], scale, settings)
        letters += more
        drawn += line
    return Strip(
        letters=_scaled(letters, look.k),
        bars=_scaled(drawn, look.k),
        per_line=per_line,
    )


def _per_line(count: int, width: float, room: float, most: int) -> int:
    """Return how many bars a line has: as many as find room; three only where the bars come in threes."""
    fit = max(min(int((room + 1e-6) // width), most), 1)
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
