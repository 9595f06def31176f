"""Lines of plain text of a given width in columns of a terminal, for all pages that are text."""

from __future__ import annotations

from fretloom.text import columns, drawn_signs


def wrap(text: str, width: int) -> list[str]:
    """Break a text at spaces into lines of at most `width` columns, and within a word if it must be."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        for piece in _pieces(word, max(width, 2)):
            joined = f"{line} {piece}" if line else piece
            if line and columns(joined) > width:
                lines.append(line)
                joined = piece
            line = joined
    return [*lines, line] if line else lines


def _pieces(word: str, width: int) -> list[str]:
    pieces, piece = [], ""
    for sign in drawn_signs(word):
        if columns(piece + sign) > width:
            pieces.append(piece)
            piece = ""
        piece += sign
    return [*pieces, piece]


def hang(label: str, text: str, width: int, indent: int) -> list[str]:
    """Set a text beside a label, its further lines under the first."""
    lines = wrap(text, width - indent) or [""]
    first = label + " " * (indent - columns(label)) + lines[0]
    return [first.rstrip(), *(" " * indent + line for line in lines[1:])]
