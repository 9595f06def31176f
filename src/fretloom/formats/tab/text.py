"""Plain text on a grid of columns: how wide words are, how they wrap, what may not be printed."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable


def clean(text: str) -> str:
    """Return a text on one line, without characters that would steer a terminal or hide others."""
    kept = ("" if unicodedata.category(sign) in ("Cc", "Cf", "Cs") else sign for sign in
            text.replace("\t", " ").replace("\n", " "))  # fmt: skip
    return " ".join("".join(kept).split())


def width_of(text: str) -> int:
    """Return how many columns a text takes: two for the wide signs of East Asian scripts."""
    if text.isascii():
        return len(text)
    return sum(map(_width, text))


def _width(sign: str) -> int:
    if unicodedata.combining(sign):
        return 0
    return 2 if unicodedata.east_asian_width(sign) in "WF" else 1


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
    for sign in word:
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
    """Return a line with each piece at its column, or after what already stands there."""
    line: list[str] = []
    end = 0
    for column, text in pieces:
        if text:
            gap = max(column - end, 1 if end else 0)
            line.append(" " * gap + text)
            end += gap + width_of(text)
    return "".join(line)
