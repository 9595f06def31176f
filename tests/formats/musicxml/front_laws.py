"""Where the words of the first page lie: inside its margins, and none over another.

How wide words are is measured with the Adobe font metrics of Times Bold (the broader of the usual
roman types; the file comes with PyPI `matplotlib`); an em is counted for what it does not have.
"""

from __future__ import annotations

import itertools
import unicodedata
from functools import lru_cache
from pathlib import Path
from typing import Any

import matplotlib

POINT = 25.4 / 72


@lru_cache(maxsize=1)
def times_bold() -> dict[int, float]:
    """Return the widths of characters in ems."""
    path = Path(matplotlib.get_data_path()) / "fonts" / "pdfcorefonts" / "Times-Bold.afm"
    rows = [
        line.split() for line in path.read_text("latin-1").splitlines() if line.startswith("C ")
    ]
    return {int(row[1]): float(row[4]) / 1000 for row in rows}


def boxes(root: Any) -> list[tuple[float, float, float, float, str]]:
    """Return left, bottom, right and top of each line of words, in millimetres, and what it says."""
    scaling = root.find("defaults/scaling")
    mm = float(scaling.findtext("millimeters")) / float(scaling.findtext("tenths"))
    found = []
    for words in root.iterfind("credit/credit-words"):
        size = float(words.get("font-size")) * POINT
        drawn = [sign for sign in words.text if not unicodedata.combining(sign)]
        width = size * sum(times_bold().get(ord(sign), 1.0) for sign in drawn)
        x, y = float(words.get("default-x")) * mm, float(words.get("default-y")) * mm
        left = x - width * {"left": 0.0, "center": 0.5, "right": 1.0}[words.get("justify")]
        bottom = y - size * {"top": 1.0, "middle": 0.5, "bottom": 0.0}[words.get("valign")]
        found.append((left, bottom, left + width, bottom + size, words.text))
    return found


def check_page(root: Any) -> None:
    """Every line lies inside the margins of A4 (ISO 216: 210 by 297 mm), and none covers another."""
    scaling, page = root.find("defaults/scaling"), root.find("defaults/page-layout")
    mm = float(scaling.findtext("millimeters")) / float(scaling.findtext("tenths"))
    width, height = (float(page.findtext(f"page-{side}")) * mm for side in ("width", "height"))
    assert (round(width), round(height)) == (210, 297)
    sides = ("left", "bottom", "right", "top")
    margins = [float(page.findtext(f"page-margins/{side}-margin")) * mm for side in sides]
    found = boxes(root)
    for left, bottom, right, top, _ in found:
        assert left >= margins[0] - 0.01
        assert bottom >= margins[1] - 0.01
        assert right <= width - margins[2] + 0.01
        assert top <= height - margins[3] + 0.01
    for one, other in itertools.combinations(found, 2):
        beside = one[2] <= other[0] or other[2] <= one[0]
        assert beside or one[3] <= other[1] + 0.01 or other[3] <= one[1] + 0.01, (one, other)
    first = root.find("part/measure/print/system-layout/top-system-distance")
    lines = [one for one in found if one[1] > height / 2]
    staff = height - margins[3] - float(first.text) * mm
    assert all(one[1] > staff + 15 for one in lines)
