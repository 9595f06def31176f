"""Makes the fonts that travel in the package anew: run it by hand, when Andika has a new edition.

    npm pack @fontsource/andika && tar -xzf fontsource-andika-*.tgz
    python docs/rewrite_fonts.py package

It takes Andika (SIL Open Font License 1.1) as it is packed there, in two weights and the Latin letters,
with its licence, and draws a small font of our own for the signs that Andika does not have: sharp, flat,
and the notes that stand for beats.
"""

from __future__ import annotations

import shutil
import sys
from math import cos, pi, sin
from pathlib import Path

from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont

FONTS = Path(__file__).parent.parent / "src/fretloom/formats/students/handout/fonts"
#: Units of an em, the height of Andika's capitals in them, and how wide a stroke is.
EM, CAP, STROKE = 1000, 725, 78
WEIGHTS = ("400", "700")


def box(
    pen: TTGlyphPen, left: float, bottom: float, right: float, top: float, rise: float = 0
) -> None:
    """Draw a bar; `rise` is how much higher its right end is."""
    corners = [(left, bottom), (left, top), (right, top + rise), (right, bottom + rise)]
    pen.moveTo(corners[0])
    for corner in corners[1:]:
        pen.lineTo(corner)
    pen.closePath()


def bowl(
    pen: TTGlyphPen,
    at: tuple[float, float],
    across: float,
    up: float,
    turned: float,
    inner: bool = False,
) -> None:
    """Draw an ellipse turned by some degrees; an inner one is a hole."""
    angle = turned * pi / 180
    steps = range(24) if inner else range(24, 0, -1)
    points = []
    for step in steps:
        x, y = across * cos(2 * pi * step / 24), up * sin(2 * pi * step / 24)
        points.append(
            (at[0] + x * cos(angle) - y * sin(angle), at[1] + x * sin(angle) + y * cos(angle))
        )
    pen.moveTo(points[0])
    for point in points[1:]:
        pen.lineTo(point)
    pen.closePath()


def sharp(pen: TTGlyphPen) -> int:
    box(pen, 130, -40, 130 + STROKE * 0.8, CAP + 20)
    box(pen, 300, 0, 300 + STROKE * 0.8, CAP + 60)
    box(pen, 40, 190, 450, 190 + STROKE * 1.3, 70)
    box(pen, 40, 420, 450, 420 + STROKE * 1.3, 70)
    return 490


def flat(pen: TTGlyphPen) -> int:
    box(pen, 60, 0, 60 + STROKE * 0.8, CAP + 60)
    bowl(pen, (215, 185), 185, 175, 40)
    bowl(pen, (215, 190), 105, 88, 40, inner=True)
    return 430


def quarter(pen: TTGlyphPen) -> int:
    bowl(pen, (200, 120), 150, 110, 25)
    box(pen, 310, 140, 310 + STROKE * 0.7, CAP + 90)
    return 420


def eighth(pen: TTGlyphPen) -> int:
    quarter(pen)
    # The same bar that stands at the tip of a stem in our tab.
    box(pen, 310, CAP - 20, 520, CAP + 90)
    return 560


def signs() -> TTFont:
    """Return the font of our own: straight bars and one bowl."""
    drawn = {
        ".notdef": None,
        "space": None,
        "sharp": sharp,
        "flat": flat,
        "quarter": quarter,
        "eighth": eighth,
    }
    builder = FontBuilder(EM, isTTF=True)
    builder.setupGlyphOrder(list(drawn))
    builder.setupCharacterMap(
        {0x20: "space", 0x266F: "sharp", 0x266D: "flat", 0x2669: "quarter", 0x266A: "eighth"}
    )
    glyphs, widths = {}, {}
    for name, draw in drawn.items():
        pen = TTGlyphPen(None)
        widths[name] = (draw(pen) if draw else 300, 0)
        glyphs[name] = pen.glyph()
    builder.setupGlyf(glyphs)
    builder.setupHorizontalMetrics(widths)
    builder.setupHorizontalHeader(ascent=950, descent=-250)
    builder.setupNameTable(
        {"familyName": "Fretloom Signs", "styleName": "Regular", "licenseDescription": "MIT"}
    )
    builder.setupOS2(
        sTypoAscender=950, sTypoDescender=-250, usWinAscent=950, usWinDescent=250, sCapHeight=CAP
    )
    builder.setupPost()
    # So that the file is the same whenever it is made.
    builder.font["head"].created = builder.font["head"].modified = 3_800_000_000
    builder.font.recalcTimestamp = False
    builder.font.flavor = "woff2"
    return builder.font


def main(package: Path) -> None:
    FONTS.mkdir(exist_ok=True)
    for weight in WEIGHTS:
        shutil.copy(
            package / "files" / f"andika-latin-{weight}-normal.woff2",
            FONTS / f"andika-{weight}.woff2",
        )
    shutil.copy(package / "LICENSE", FONTS / "OFL.txt")
    signs().save(FONTS / "signs.woff2")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
