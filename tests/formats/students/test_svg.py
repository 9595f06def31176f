"""How pictures become SVG."""

from __future__ import annotations

import pytest
from lxml import etree

from fretloom.engraving.drawn.drawing import Box, Disc, Drawing, DrawnLine, Letters
from fretloom.formats.students.svg import COLOURS, document, number, sheet

SVG = "{http://www.w3.org/2000/svg}"


def picture(*marks: object, title: str = "G") -> Drawing:
    return Drawing(width=20, height=30, marks=marks, title=title, says="A shape.")


def test_marks_are_written_with_their_colours_and_classes():
    """Attributes for paper, classes for readers in the dark (SVG 1.1)."""
    marks = (
        DrawnLine(points=((0, 1), (2, 3.456)), width=0.3, ink="line", dash=(0.9, 0.7)),
        DrawnLine(points=((0, 0), (1, 1), (2, 1), (3, 0)), width=0.3, ink="ink", curved=True),
        Disc(at=(5, 5), radius=1.84, fill="ink"),
        Disc(at=(5, 5), radius=1, line="soft", width=0.22),
        Box(at=(1, 2), width=3, height=4, radius=0.6, fill="tint", line="line", line_width=0.18),
        Letters(at=(1, 2), text="C♯", size=4.9, anchor="start", bold=True, after="m7"),
        Letters(at=(1, 2), text="E", size=2.6, ink="soft"),
    )
    root = etree.fromstring(document(picture(*marks)).encode())
    drawn = [one for one in root if one.tag.removeprefix(SVG) not in ("title", "desc", "style")]
    line, curve, disc, ring, box, name, letter = (dict(one.attrib) for one in drawn)
    assert line["d"] == "M0 1L2 3.46"
    assert (line["class"], line["stroke"], line["fill"]) == ("s-line", COLOURS["line"][0], "none")
    assert line["stroke-dasharray"] == "0.9 0.7"
    assert curve["d"] == "M0 0C1 1 2 1 3 0"
    assert (disc["class"], disc["fill"], disc["r"]) == ("f-ink", COLOURS["ink"][0], "1.84")
    assert (ring["fill"], ring["stroke-width"]) == ("none", "0.22")
    assert (box["class"], box["rx"], box["height"]) == ("f-tint s-line", "0.6", "4")
    assert name["font-weight"] == "700" and "text-anchor" not in name
    assert letter["text-anchor"] == "middle" and "font-weight" not in letter
    assert "".join(drawn[5].itertext()) == "C♯m7"
    [after] = drawn[5]
    assert (after.get("font-size"), after.get("font-weight")) == ("4.21", "400")


def test_a_picture_says_what_it_is():
    """`role`, `title` and `desc`, which screen readers take (WCAG 2.2, 1.1.1)."""
    root = etree.fromstring(document(picture()).encode())
    assert root.get("role") == "img"
    assert (root.findtext(f"{SVG}title"), root.findtext(f"{SVG}desc")) == ("G", "A shape.")
    assert (root.get("width"), root.get("viewBox")) == ("20mm", "0 0 20 30")


def test_a_title_never_becomes_markup():
    """Signs of XML are escaped in titles and texts."""
    hostile = '<script>alert("&")</script>'
    root = etree.fromstring(
        document(picture(Letters(at=(0, 0), text=hostile, size=3), title=hostile)).encode()
    )
    assert not list(root.iter(f"{SVG}script"))
    assert root.findtext(f"{SVG}title") == hostile
    assert root.findtext(f"{SVG}text") == hostile


def test_a_sheet_has_rows():
    """Columns as wide as the widest, rows as high as their highest."""
    wide = Drawing(width=30, height=10, marks=(), title="A")
    root = etree.fromstring(sheet([wide, picture(), wide], "Shapes", abreast=2, gap=5).encode())
    places = [(one.get("x"), one.get("y"), one.get("width")) for one in root.findall(f"{SVG}svg")]
    assert places == [("0", "0", "30"), ("35", "0", "20"), ("0", "35", "30")]
    assert root.get("viewBox") == "0 0 65 45"
    assert root.findtext(f"{SVG}title") == "Shapes"


@pytest.mark.parametrize(
    ("value", "text"), [(1.0, "1"), (0.304, "0.3"), (-0.001, "0"), (12.345, "12.35"), (10.0, "10")]
)
def test_numbers_are_short(value: float, text: str):
    """A hundredth of a millimetre is finer than any printer."""
    assert number(value) == text


def luminance(colour: str) -> float:
    """Relative luminance of a colour (WCAG 2.2, definition)."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    ]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours (WCAG 2.2, definition)."""
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("mode", [0, 1], ids=["light", "dark"])
def test_all_is_seen(mode: int):
    """Text 7:1 on paper (WCAG 2.2, 1.4.6) and 6.5:1 on its tint, lines 3:1 (1.4.11), light and dark."""
    paper, tint = COLOURS["paper"][mode], COLOURS["tint"][mode]
    for ink in ("ink", "soft", "thumb"):
        assert contrast(COLOURS[ink][mode], paper) >= 7
        assert contrast(COLOURS[ink][mode], tint) >= 6.5
    assert contrast(COLOURS["line"][mode], paper) >= 3
