"""The shapes of a lesson as diagrams in plain text."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from fretloom.engraving.drawn.diagrams.board import on_neck
from fretloom.engraving.drawn.neck import window
from fretloom.formats.shape import Output, file_name
from fretloom.formats.students.shapes.options import TextShapeOptions
from fretloom.formats.students.shapes.taken import taken_in, without_shape
from fretloom.performance.reading import Reading
from fretloom.performance.showing.taken_shapes import TakenShape
from fretloom.text import columns, padded
from fretloom.trade.guitar.tuning import Capo, Tuning

_BETWEEN = "    "
_NO_CAPO = Capo()
_LEGEND = (
    "The nut or the capo is on top, {outer} on the {side}. A figure is a finger at its fret, o is "
    "an open string, x is not played; what stands in ( ) is never plucked in this song, in [ ] a finger hops to "
    "within the bar; - is a barre beneath other fingers. Under the strings: the counts of the thumb."
)

_SOME_COVERED = (
    " The capo leaves strings out: = is where it lies, and frets are counted from the nut here."
)


def write(reading: Reading, options: TextShapeOptions) -> tuple[Output, ...]:
    """Write the shapes that a lesson takes, side by side where the page is wide enough.

    Raises:
        FretloomError: the lesson takes no voicing that has frets.
    """
    taken = taken_in(reading.timeline)
    settings = reading.timeline.settings
    tuning, side = settings.tuning, "right" if options.mirrored else "left"
    outer = "the thick string" if tuning.outer_is_lowest else f"string {tuning.strings}"
    legend = _LEGEND.format(outer=outer, side=side)
    if settings.capo.leaves_out(tuning.strings):
        legend += _SOME_COVERED
    drawn = [list(diagram(one, tuning, options.mirrored, settings.capo)) for one in taken]
    lines = [*textwrap.wrap(settings.title, options.width), ""] if settings.title else []
    lines += [*textwrap.wrap(legend, options.width), ""]
    for row in _rows(drawn, options.width):
        lines += [*_abreast(row), ""]
    text = "\n".join(line.rstrip() for line in lines)
    name = file_name(reading.lesson, ".shapes.txt")
    return (Output(name, text, without_shape(reading.timeline)),)


def diagram(
    taken: TakenShape, tuning: Tuning, mirrored: bool = False, capo: Capo = _NO_CAPO
) -> Iterator[str]:
    """Yield the lines of one diagram: name, strings, open ones, frets, and the thumb's counts."""
    voicing, use = on_neck(taken.voicing, capo), taken.use
    count = len(voicing.frets)
    partial = capo.leaves_out(count)
    strings = list(range(1, count + 1) if mirrored else range(count, 0, -1))
    hops = {hop.string: hop for hop in voicing.hops}
    frets = [fret for fret in voicing.frets if fret is not None]
    low, high = window([*frets, *(hop.fret for hop in voicing.hops)])
    yield taken.name
    yield _row([str(tuning.open_pitch(one).name) for one in strings])
    yield _row([_at_nut(voicing.fret(one), one in use.plucked, one in hops) for one in strings])
    yield "   " + ("=" if not low else "-") * (3 * count - 2)
    for fret in range(low + 1, high + 1):
        signs = []
        for one in strings:
            under = any(
                barre.fret == fret and barre.last < one < barre.first for barre in voicing.barres
            )
            covered = partial and fret == capo.fret and capo.on(one)
            sign = "-" if under else "=" if covered else "|"
            if voicing.fret(one) == fret:
                finger = voicing.finger(one) or "*"
                sign = finger if one in use.plucked else f"({finger})"
            elif one in hops and hops[one].fret == fret:
                sign = f"[{hops[one].finger}]"
            signs.append(sign)
        yield _row(signs, str(fret))
    rows = [[str(at) for at in use.thumb_on(one)] for one in strings]
    for place in range(max(map(len, rows), default=0)):
        yield _row([row[place] if place < len(row) else " " for row in rows], "p")


def _at_nut(fret: int | None, plucked: bool, hopped_to: bool) -> str:
    """Return the sign of a string over the nut."""
    if fret is None:
        return " " if hopped_to else "x"
    if fret:
        return " "
    return "o" if plucked else "(o)"


def _row(signs: list[str], before: str = "") -> str:
    """Write a sign a string, each in the middle of three columns; brackets stand around it."""
    return f"{before:>2}" + "".join(f"{sign:^3}" if len(sign) < 3 else sign for sign in signs)


def _rows(drawn: list[list[str]], width: int) -> Iterator[list[list[str]]]:
    row: list[list[str]] = []
    for one in drawn:
        if row and sum(map(_width, [*row, one])) + len(_BETWEEN) * len(row) > width:
            yield row
            row = []
        row.append(one)
    yield row


def _abreast(row: list[list[str]]) -> Iterator[str]:
    for place in range(max(map(len, row))):
        cells = [padded(one[place] if place < len(one) else "", _width(one)) for one in row]
        yield _BETWEEN.join(cells)


def _width(one: list[str]) -> int:
    return max(map(columns, one))
