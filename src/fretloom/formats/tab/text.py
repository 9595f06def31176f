"""Plain text on a grid of columns: how wide words are, how they wrap, what must not be printed."""

from __future__ import annotations

from collections.abc import Iterable

from fretloom.characters import nothing_hidden
from fretloom.text import columns as width_of
from fretloom.text import drawn_signs

__all__ = ["clean", "hang", "row", "width_of", "wrap"]


def clean(text: str) -> str:
    """Return a text on one line, without characters that would control a terminal or hide others."""
    return nothing_hidden(text)


def wrap(text: str, width: int) -> list[str]:
    """Break a text at spaces into lines of at most `width` columns, and within a word if it must be."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        for piece in _pieces(word, max(width, 2)):
            joined = f"{line} {piece}" if line else piece
            if line and width_of(joined) > width:
                lines.append(line)
                joined = piece
            line = joined
    return [*lines, line] if line else lines


def _pieces(word: str, width: int) -> list[str]:
    pieces, piece = [], ""
    for sign in drawn_signs(word):
        if width_of(piece + sign) > width:
            pieces.append(piece)
            piece = ""
        piece += sign
    return [*pieces, piece]


def hang(label: str, text: str, width: int, indent: int) -> list[str]:
    """Set a text beside a label, its further lines under the first."""
    lines = wrap(text, width - indent) or [""]
    first = label + " " * (indent - width_of(label)) + lines[0]
    return [first.rstrip(), *(" " * indent + line for line in lines[1:])]


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
