"""The style sheet with its fonts, which lie in the package and travel in every page."""

from __future__ import annotations

from base64 import b64encode
from functools import cache

from fretloom.formats.students.handout.templating import ROOM
from fretloom.package_data import packaged_bytes, packaged_text

_SIGNS = "U+2669-266A,U+266D,U+266F"
#: The faces: family, weight, file, and for the signs of music which characters it is for.
_FACES = (
    ("Andika", "400", "andika-400", ""),
    ("Andika", "700", "andika-700", ""),
    ("Fretloom Signs", "400", "signs", _SIGNS),
    # The same once more, for a PDF: there bold letters would be taken from another font.
    ("Fretloom Signs", "700", "signs", _SIGNS),
)
#: Papers, width and height in millimetres (ISO 216; letter is 8.5 by 11 inches), and the margins of the style sheet:
#: top, right, bottom, left.
PAPERS = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
MARGINS = (14.0, 16.0, 15.0, 18.0)
_PAGE = {
    "letter": "@page { size: Letter; }",
    "a4": "",
}


@cache
def faces() -> str:
    """Return the rules for the fonts, with the fonts in them."""
    rules = []
    for family, weight, name, characters in _FACES:
        font = b64encode(packaged_bytes(ROOM, f"fonts/{name}.woff2")).decode("ascii")
        only = f"unicode-range:{characters};" if characters else ""
        rules.append(
            f'@font-face{{font-family:"{family}";font-weight:{weight};{only}'
            f"src:url(data:font/woff2;base64,{font}) format('woff2')}}"
        )
    return "\n".join(rules)


def style(paper: str, large: bool) -> str:
    """Return the style sheet for a paper and a size of print."""
    sheets = [packaged_text(ROOM, "templates/style.css"), _PAGE[paper]]
    if large:
        sheets.append(packaged_text(ROOM, "templates/large.css"))
    return "\n".join(filter(None, sheets))


def scaled_paper(paper: str, scale: float) -> str:
    """Return the rule for a page that is printed smaller: as much larger as it then gets smaller."""
    width, height = (one / scale for one in PAPERS[paper])
    margins = " ".join(f"{one / scale:.3f}mm" for one in MARGINS)
    return (
        f"@page {{ size: {width:.3f}mm {height:.3f}mm !important; margin: {margins} !important; }}"
    )
