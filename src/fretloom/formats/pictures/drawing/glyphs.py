"""Signs of verovio's music font and widths of letters, from the files that verovio brings along."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from xml.etree import ElementTree

from fretloom.values import frozen

#: verovio's own music font, licensed under the SIL Open Font License; no other is asked for.
MUSIC_FONT = "Leipzig"


@frozen
class Glyph:
    """The outline of a sign as SVG path data, in units of the font's em with y downwards after `transform`."""

    path: str
    transform: str


@cache
def glyph(code: str) -> Glyph | None:
    """Return the sign with a hexadecimal code of the SMuFL (W3C, 2021); None for one that draws nothing."""
    found = verovio_data().joinpath(MUSIC_FONT, f"{code}.xml")
    path = (
        ElementTree.fromstring(found.read_text("utf-8")).find("path") if found.is_file() else None
    )
    return None if path is None else Glyph(path.get("d", ""), path.get("transform", ""))


def width(text: str, *, music: bool, bold: bool, italic: bool) -> float:
    """Return how wide a text is, in ems, as verovio reckons it."""
    style = "-".join(word for word, asked in (("bold", bold), ("italic", italic)) if asked)
    name = f"{MUSIC_FONT}.xml" if music else f"text/Times{style and '-' + style}.xml"
    widths = _widths(name)
    return sum(widths.get(ord(character), widths.get(ord("o"), 0.5)) for character in text)


@cache
def _widths(name: str) -> dict[int, float]:
    tree = ElementTree.fromstring(verovio_data().joinpath(name).read_text("utf-8"))
    em = float(tree.get("units-per-em", "1000"))
    return {int(one.get("c", "0"), 16): _advance(one) / em for one in tree.iter("g")}


def _advance(sign: ElementTree.Element) -> float:
    """Return how wide a sign is with its margins; some have no such number, and get the same margin twice."""
    ink, margin = float(sign.get("w", "0")), float(sign.get("x", "0"))
    return float(sign.get("h-a-x", ink + 2 * margin))


def verovio_data() -> Traversable:
    """Return the folder of fonts that comes with verovio."""
    return files("verovio").joinpath("data")
