"""The road as rows of cells: what is new is framed, what is as before is one open cell."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING

from fretloom.formats.students.handout.templating import filled
from fretloom.formats.students.telling.road import RoadBlock, RoadCell
from fretloom.trade.phrases.table import say
from fretloom.values import frozen

if TYPE_CHECKING:
    from markupsafe import Markup

#: Cells a row: eight as a rule, nine where that keeps the longest row on one line, fewer for long names.
_USUAL, _NINE, _LARGE = 8, 9, 4
_FEWER = (8, 6, 4, 3, 2)
#: A name of more letters than this stands over its row, not beside it: two lines are full.
_LONG_NAME = 22
#: The width of a row and the room beside a chord in its cell, and of a letter, in millimetres at 8.8 points.
_ROW, _BESIDE, _LETTER = 147.5, Fraction("1.8"), Fraction("1.7")


@frozen(kw_only=True)
class DrawnCell:
    """A cell as the page has it: `width` in percent of the row, `chords` with their shares of the cell in percent."""

    width: str
    classes: str
    chords: tuple[tuple[str, str], ...]
    words: str


#: A pickup stands before the first bar, and takes no place of a bar.
_STUB = DrawnCell(width="2.4", classes=" pickup", chords=(), words="")


@frozen(kw_only=True)
class RoadRow:
    """A block of the road with its lines of cells, and as it is said."""

    block: RoadBlock
    lines: tuple[tuple[DrawnCell, ...], ...]
    spoken: str


def road_part(blocks: Sequence[RoadBlock], large: bool) -> Markup:
    """Return the road as a part of the page."""
    rows = road_rows(blocks, cells_across(blocks, large))
    return filled("road.html", rows=rows, long_name=_LONG_NAME)


def road_rows(blocks: Sequence[RoadBlock], across: int) -> tuple[RoadRow, ...]:
    """Return the rows of the road, `across` cells a line."""
    return tuple(
        RoadRow(block=block, lines=tuple(_lines(block, across)), spoken=spoken(block))
        for block in blocks
    )


def cells_across(blocks: Sequence[RoadBlock], large: bool) -> int:
    """Return how many cells stand in a row, so that every chord has room for its name."""
    if large:
        return _LARGE
    longest = max((sum(cell.bars for cell in block.cells) for block in blocks), default=_USUAL)
    across = _NINE if longest == _NINE else _USUAL
    cells = (cell for block in blocks for cell in block.cells)
    needed = max((sum(map(_needed, cell.chords)) for cell in cells), default=0)
    roomy = (one for one in (across, *_FEWER) if one <= across and _ROW / one >= needed)
    return next(roomy, _FEWER[-1])


def _needed(chord: tuple[str, Fraction]) -> Fraction:
    """Return how much room a chord's name needs, in millimetres."""
    return _BESIDE + _LETTER * len(chord[0])


def _lines(block: RoadBlock, across: int) -> Iterator[tuple[DrawnCell, ...]]:
    line: list[DrawnCell] = []
    taken, bar = 0, 0
    for cell in block.cells:
        if cell.pickup:
            line.append(_STUB)
            continue
        units = min(cell.bars, across)
        if line and taken + units > across:
            yield tuple(line)
            line, taken = [], 0
        line.append(_cell(cell, units, across, bar))
        taken, bar = taken + units, bar + 1
    if line:
        yield tuple(line)


def _cell(cell: RoadCell, units: int, across: int, bar: int) -> DrawnCell:
    classes = " before" if cell.as_before else " new" if cell.new else " fourth" * (bar % 4 == 0)
    words = ""
    if cell.as_before:
        words = (
            say("road.as-before-one") if cell.bars == 1 else say("road.as-before", count=cell.bars)
        )
    elif not cell.chords:
        words = say("road.rest")
    shares = _shares(cell.chords, Fraction(_ROW) * units / across)
    chords = tuple(
        (name, _percent(share)) for (name, _), share in zip(cell.chords, shares, strict=True)
    )
    return DrawnCell(
        width=_percent(Fraction(units, across)), classes=classes, chords=chords, words=words
    )


def _shares(chords: Sequence[tuple[str, Fraction]], width: Fraction) -> list[Fraction]:
    """Return the widths of the chords of a bar as shares: by their beats, but none less than its name needs."""
    least = [_needed(chord) / width for chord in chords]
    if sum(least) >= 1:
        return [one / sum(least) for one in least]
    shares = [share for _, share in chords]
    short = {at for at, share in enumerate(shares) if share < least[at]}
    while True:
        room = 1 - sum(least[at] for at in short)
        whole = sum(share for at, share in enumerate(shares) if at not in short)
        wide = [
            least[at] if at in short else share * room / whole for at, share in enumerate(shares)
        ]
        shorter = {at for at, one in enumerate(wide) if one < least[at]}
        if not shorter:
            return wide
        short |= shorter


def _percent(share: Fraction) -> str:
    # Rounded down: six sixths must not be wider than their line.
    return f"{int(share * 100_000) / 1000:.3f}".rstrip("0").rstrip(".")


def spoken(block: RoadBlock) -> str:
    """Say a block for those who hear the page: "Verse 2, 9 bars: 7 bars as before, then B7, B7."."""
    parts: list[str] = []
    for cell in block.cells:
        if cell.pickup:
            parts.append(say("road.pickup"))
        elif cell.as_before:
            parts.append(
                say("road.as-before-one")
                if cell.bars == 1
                else say("road.as-before", count=cell.bars)
            )
        else:
            parts.append(_named([name for name, _ in cell.chords]))
    return say("road.spoken", title=block.title, size=block.size, bars=", ".join(parts))


def _named(names: Sequence[str]) -> str:
    """Say the chords of a bar: "E", "E and B7", "E, A and B7"."""
    if len(names) < 2:
        return names[0] if names else say("road.rest")
    return say("road.within", before=", ".join(names[:-1]), after=names[-1])
