"""Lines of tab and picking pictures on the page: on one ground, and no wider than the paper."""

from __future__ import annotations

import re

import html5lib
import pytest
from places import EXAMPLES

from fretloom.api.reading import examine, load
from fretloom.formats.students.handout.artist import BESIDE, WHOLE
from fretloom.formats.students.handout.options import HandoutOptions
from fretloom.formats.students.handout.page import page_of

PATHS = sorted(EXAMPLES.glob("*.lesson"))
#: What a pattern with half of the width has for itself, in millimetres.
HALF = BESIDE / 2 - 4


def _tree(path, *, large=False):
    page = page_of(examine(load(path)).reading, HandoutOptions(large=large))
    tree = html5lib.HTMLParser(namespaceHTMLElements=False).parse(page)
    for one in tree.iter():
        one.tag = str(one.tag).rpartition("}")[2]
    return tree


def _lines(tree):
    return [one for one in tree.iter() if one.get("class") == "line"]


def _sizes(line) -> list[tuple[float, float]]:
    """Return width and height of what is seen of a line: the letters of its first bar, and its bars."""
    bars = line.findall("span")
    seen = [bars[0].find("span").find("svg"), *(bar.find("svg") for bar in bars)]
    return [(_millimetres(svg, "width"), _millimetres(svg, "height")) for svg in seen]


def _millimetres(svg, side: str) -> float:
    return float(re.fullmatch(r"([\d.]+)mm", svg.get(side))[1])


@pytest.mark.parametrize("large", [False, True], ids=["usual", "large"])
@pytest.mark.parametrize("path", PATHS, ids=lambda one: one.stem)
def test_all_bars_of_a_line_stand_on_one_ground(path, large):
    """All pictures of a line are equally high, the letters too, and set on their feet."""
    lines = _lines(tree := _tree(path, large=large))
    assert lines
    for line in lines:
        assert len({height for _, height in _sizes(line)}) == 1
    style = "".join(one.text for one in tree.iter("style"))
    assert ".line svg, .line img { display: inline-block; vertical-align: bottom; }" in style


@pytest.mark.parametrize("large", [False, True], ids=["usual", "large"])
@pytest.mark.parametrize("path", PATHS, ids=lambda one: one.stem)
def test_a_picking_picture_has_room_where_it_stands(path, large):
    """Half of the width only if it fits there; the whole otherwise, and no more."""
    picking = _tree(path, large=large).find(".//section[@id='picking']")
    pieces = [one for one in picking.iter("div") if one.get("class", "").startswith("piece ")
              or one.get("class") == "piece"]  # fmt: skip
    assert pieces
    for piece in pieces:
        whole = WHOLE if large else BESIDE
        room = whole if "long" in piece.get("class").split() or large else HALF
        for line in _lines(piece):
            assert sum(width for width, _ in _sizes(line)) <= room + 0.05


def test_short_patterns_may_stand_side_by_side():
    """Four quarter notes have room in half of the width; six eighths of two words each have not."""
    classes = {
        path.stem: [one.get("class") for one in _tree(path).find(".//section[@id='picking']").iter()
                    if one.get("class", "").startswith("piece")][1:]
        for path in PATHS
    }  # fmt: skip
    assert set(classes["ferry-at-the-weir"]) == {"piece long"}
    assert any("piece" in found for found in classes.values())


@pytest.mark.parametrize("name", ["ferry-at-the-weir", "tuesday-rag"])
def test_tab_in_large_print_fills_the_line(name):
    """Two bars side by side in more than five sixths of the width (a pickup leaves later lines some), none beyond it."""
    [path] = [one for one in PATHS if one.stem == name]
    song = _tree(path, large=True).find(".//section[@id='song']")
    widths = [sum(width for width, _ in _sizes(line)) for line in _lines(song)]
    assert max(widths) <= WHOLE + 0.05
    full = [width for width in widths if width > WHOLE * 5 / 6]
    assert len(full) > len(widths) / 2
