"""Plain text on a grid of columns: how wide words are, how they wrap, what must not be printed.

How a text is wrapped is the same for all pages of plain text: see `formats.lines`.
"""

from __future__ import annotations

from collections.abc import Iterable

from fretloom.characters import nothing_hidden
from fretloom.formats.lines import hang, wrap
from fretloom.text import columns as width_of

__all__ = ["clean", "hang", "row", "underlined", "width_of", "wrap"]


def clean(text: str) -> str:
    """Return a text on one line, without characters that would control a terminal or hide others."""
    return nothing_hidden(text)


def row(pieces: Iterable[tuple[int, str]]) -> str:
    """Return a line with each piece at its column, or after what is there already."""
    line: list[str] = []
    end = 0
    for column, text in pieces:
        if text:
            gap = max(column - end, 1 if end else 0)
            line.append(" " * gap + text)
            end += gap + width_of(text)
    return "".join(line)


def underlined(heading: str) -> list[str]:
    """Return a heading with a line under it."""
    return [heading, "-" * width_of(heading)]
