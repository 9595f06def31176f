"""How much room words take on paper, and how they are broken over lines.

A file cannot know which letters a program has, so widths are estimated with room to spare: those of
a broad roman type, in ems (an em is the size of the letters).
"""

from __future__ import annotations

from collections.abc import Sequence

from fretloom.characters import belongs, unseen
from fretloom.text import columns, drawn_signs
from fretloom.values import frozen

_NARROW = frozenset(" .,;:'|!iljtfrI()[]-\u2018\u2019")
_BROAD = frozenset("MWmw@%&\u2014\u0152\u00c6")
#: Of a text that is cut the end says so.
_CUT = "\u2026"


@frozen
class Lettering:
    """Words set in lines of one size, in points; `cut` says that not all of them found room."""

    lines: tuple[str, ...]
    size: int
    cut: bool = False


def clean(text: str) -> str:
    """Return a text on one line, without characters that are not seen."""
    kept = (sign for at, sign in enumerate(text) if not unseen(sign) or belongs(text, at))
    return " ".join("".join(kept).split())


def ems(text: str) -> float:
    """Return how wide a text is at most, in ems."""
    return sum(map(_sign, text if text.isascii() else drawn_signs(text)))


def fitted(text: str, ems_at: Sequence[tuple[int, float]], most_lines: int) -> Lettering:
    """Set a text in the largest size in which it takes few enough lines.

    Args:
        text: what is set. ems_at: sizes in points, the largest first, with the ems that a line of
            each has room for.
        most_lines: how many lines there may be; what does not fit in the smallest size is cut.
    """
    words, lines = clean(text), []
    for size, room in ems_at:
        lines = _lines(words, room, most_lines)
        if len(lines) <= most_lines:
            return Lettering(tuple(lines), size)
    size, room = ems_at[-1]
    kept, last = lines[: most_lines - 1], lines[most_lines - 1]
    signs = drawn_signs(last)
    while signs and ems("".join(signs) + _CUT) > room:
        signs.pop()
    return Lettering((*kept, "".join(signs).rstrip() + _CUT), size, cut=True)


def _lines(text: str, room: float, enough: int) -> list[str]:
    """Break a text at spaces, and within a word if it must be; no more lines than asked for and one."""
    lines, line, used = [], "", 0.0
    space = _sign(" ")
    for word in text.split():
        for piece in _pieces(word, room):
            width = ems(piece)
            if line and used + space + width > room:
                lines.append(line)
                line, used = piece, width
                if len(lines) > enough:
                    return lines
            else:
                line, used = (f"{line} {piece}", used + space + width) if line else (piece, width)
    return [*lines, line] if line else lines


def _pieces(word: str, room: float) -> list[str]:
    if ems(word) <= room:
        return [word]
    pieces, piece, used = [], "", 0.0
    for sign in drawn_signs(word):
        if piece and used + _sign(sign) > room:
            pieces.append(piece)
            piece, used = "", 0.0
        piece, used = piece + sign, used + _sign(sign)
    return [*pieces, piece]


def _sign(sign: str) -> float:
    if sign in _NARROW:
        return 0.42
    if sign in _BROAD:
        return 1.0
    if not sign.isascii() and columns(sign) != 1:
        return 1.1 * columns(sign) / 2
    return 0.8 if sign.isupper() or not sign.isascii() else 0.56
