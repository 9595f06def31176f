"""The font of the words in PNG and PDF: Liberation Serif, as wide as Times, which verovio brings along.

It is packed as WOFF 2 (W3C, 2022) in a style sheet, which only browsers read; the libraries that
make PNG and PDF take it as OpenType.
"""

from __future__ import annotations

import re
from base64 import b64decode
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from functools import cache
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from fretloom.formats.pictures.draw import needed
from fretloom.formats.pictures.drawing.glyphs import verovio_data
from fretloom.values import frozen

NAME = "Liberation Serif"
_PACKED = re.compile(r"base64,([^)]+)\)")
#: The styles in the order of the sheet, as fpdf2 calls them.
STYLES = ("", "B", "I", "BI")


@frozen
class LetterFont:
    """One style of the font: the OpenType file, and the characters it has."""

    data: bytes
    characters: frozenset[str]


@cache
def letter_fonts() -> tuple[LetterFont, ...]:
    """Return the four styles of the font; unpacking takes half a second, so it is done once."""
    sheet = verovio_data().joinpath("Liberation.css").read_text("utf-8")
    packed = _PACKED.findall(sheet)
    return tuple(_unpacked(b64decode(one)) for one in packed)


@contextmanager
def font_files() -> Iterator[tuple[Path, ...]]:
    """Put the four styles into files, which are gone after it: the libraries want a place to read from."""
    with TemporaryDirectory(prefix="fretloom-") as folder:
        files = tuple(Path(folder) / f"{number}.ttf" for number, _ in enumerate(STYLES))
        for file, font in zip(files, letter_fonts(), strict=True):
            file.write_bytes(font.data)
        yield files


def not_in_font(texts: Iterable[str]) -> str:
    """Return the characters that the font has not, each once, in their order."""
    known = letter_fonts()[0].characters
    missing = dict.fromkeys(character for text in texts for character in text)
    return "".join(one for one in missing if one not in known and not one.isspace())


def _unpacked(packed: bytes) -> LetterFont:
    needed("brotli", "the font of the words is unpacked by brotli")
    library: Any = needed("fontTools.ttLib", "the font of the words is unpacked by fontTools")
    # Without this the file would carry the time at which it was unpacked.
    font = library.TTFont(BytesIO(packed), recalcTimestamp=False)
    font.flavor = None
    whole = BytesIO()
    font.save(whole)
    return LetterFont(whole.getvalue(), frozenset(map(chr, font.getBestCmap())))
