"""What is written around the music, where verovio writes nothing: over a strip, and at the foot of a page."""

from __future__ import annotations

from collections.abc import Sequence

from fretloom.formats.pictures.drawing.page import WORDS, DrawnPage
from fretloom.formats.pictures.drawing.runs import Chunk, TextRun, drawn, number, runs_of
from fretloom.formats.xml import Element
from fretloom.values import evolve

#: From the edges, in hundredths of a millimetre.
_LEFT, _FOOT = 400, 1000
#: Sizes and distances, as shares of the size of words over the music.
_TITLE, _UNDER_TITLE, _RIGHTS, _LINE = 1.5, 0.9, 0.8, 1.4
_BETWEEN = " · "


def under(strip: DrawnPage, head: Sequence[str], staff_size: int) -> DrawnPage:
    """Return a strip with its title over it, and the rest of its head in a line under that."""
    size = staff_size * WORDS
    lines = [(head[0], size * _TITLE, True)] if head else []
    lines += [(_BETWEEN.join(head[1:]), size * _UNDER_TITLE, False)] if head[1:] else []
    y, width, written = 0.0, strip.width, list[Element]()
    for text, letters, bold in lines:
        y += letters * _LINE
        written += _text(text, _LEFT, y, "start", letters, bold)
        width = max(width, 2 * _LEFT + sum(run.width for run in _runs(text, letters, bold)))
    moved = Element("g", {"transform": f"translate(0 {y:g})"})
    moved.children = strip.shapes
    return evolve(
        strip, width=round(width), height=round(strip.height + y), shapes=(*written, moved)
    )


def over(page: DrawnPage, foot: str, staff_size: int) -> DrawnPage:
    """Return a page with a line at its foot."""
    letters = staff_size * WORDS * _RIGHTS
    at = (page.width / 2, page.height - _FOOT)
    return evolve(page, shapes=(*page.shapes, *_text(foot, *at, "middle", letters, False)))


def _text(text: str, x: float, y: float, anchor: str, size: float, bold: bool) -> list[Element]:
    chunk = Chunk(x, y, anchor, _runs(text, size, bold))
    return [*drawn(chunk, "heading")] if text else []


def _runs(text: str, size: float, bold: bool) -> tuple[TextRun, ...]:
    weight = {"font-weight": "bold"} if bold else {}
    return tuple(runs_of(text, {"font-size": number(size), **weight}))
