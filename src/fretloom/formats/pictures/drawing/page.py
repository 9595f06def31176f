"""Makes a page of verovio's into one of ours: small, the same every time, and the same wherever it is shown.

verovio's pages have random names, a style sheet that holds for what stands beside them, a font
inside, and the kind of each group. What is kept is what is drawn.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from xml.etree import ElementTree
from xml.etree.ElementTree import Element as Tree

from fretloom.formats.pictures.drawing.beside import BendArrow, Beside, bends_beside, graces_beside
from fretloom.formats.pictures.drawing.fitting import WordRoom, fitting, room_of
from fretloom.formats.pictures.drawing.glyphs import glyph
from fretloom.formats.pictures.drawing.runs import Chunk, chunks_of, drawn, number
from fretloom.formats.xml import Element
from fretloom.values import evolve, frozen

_LINK = "{http://www.w3.org/1999/xlink}href"
_KEPT = (
    "cx", "cy", "d", "fill", "fill-opacity", "height", "points", "rx", "ry", "stroke-dasharray",
    "stroke-linecap", "stroke-linejoin", "stroke-width", "transform", "width", "x", "y",
)  # fmt: skip
#: What verovio calls a text, and what the class of ours is.
_KINDS = {
    "dir": "words", "ending": "ending", "fing": "finger", "harm": "chord", "mNum": "bar-number",
    "pgHead": "heading", "reh": "section", "syl": "syllable", "tabGrp": "fret", "tempo": "tempo",
}  # fmt: skip
_PLUCKS = ("p", "i", "m", "a", "c")
#: How far a stem's x may be from that of the finger of its note, and the gap between them, in sizes of its digit.
_NEAR, _GAP = 0.8, 0.15
#: verovio writes all of the heading in one size; the title, in bold type, is larger, the rest smaller.
_TITLE, _UNDER_TITLE = 1.6, 0.85
#: What verovio writes over tablature is larger than over notation, by as much as its lines are further apart.
_ON_TAB = 1.75
_WRITTEN = ("dir", "dynam", "ending", "harm", "reh", "tempo")
#: The size of words over notation, in thousandths of the staff's height, and of fingers as a share of it.
WORDS, _FINGERS = 56.25, 0.75
#: How thick the lines of a staff are, in hundredths of its height; verovio's are thicker on tablature.
_STAFF_LINE = 1.9


@frozen
class DrawnPage:
    """A page: its width and height, what is drawn, in hundredths of a millimetre, and its signs."""

    width: float
    height: float
    shapes: tuple[Element, ...]
    glyphs: tuple[str, ...]


def page_of(svg: str, staff_size: int, beside: Mapping[str, Beside]) -> DrawnPage:
    """Return the page that verovio has drawn.

    `staff_size` is that of its options, in millimetres; `beside` what stands beside notes, by their `id`.
    """
    tree = ElementTree.fromstring(svg)
    scale = next(one for one in tree.iter(_svg("svg")) if one is not tree)
    _, _, width, height = (float(one) for one in scale.get("viewBox", "").split())
    cleaner = _Cleaner(staff_size, beside, room_of(scale, width))
    shapes = tuple(cleaner.shapes(scale, ""))
    return DrawnPage(width, height, shapes, tuple(sorted(cleaner.glyphs)))


def definitions(codes: tuple[str, ...]) -> Element:
    """Return the outlines of signs, each of which is drawn many times."""
    defs = Element("defs")
    for code in codes:
        found = glyph(code)
        if found is not None:
            transform = {"transform": found.transform}
            defs.add("path", {"id": f"sign-{code}", **transform, "d": found.path})
    return defs


class _Cleaner:
    """Walks through a page; notes which signs it takes, and the stems of the bar it is in."""

    def __init__(self, staff_size: int, beside: Mapping[str, Beside], room: WordRoom) -> None:
        self._room = room
        self.glyphs: set[str] = set()
        self._staff_line = number(staff_size * _STAFF_LINE)
        self._words = staff_size * WORDS
        self._beside = beside
        self._bent: list[tuple[Chunk, tuple[BendArrow, ...]]] = []
        self._stems: list[tuple[float, float, float]] = []

    def shapes(self, group: Tree, kind: str) -> Iterator[Element]:
        """Yield what is drawn in a group; systems and bars stay groups, a bar's shapes on one line."""
        for one in group:
            name = one.tag.partition("}")[2]
            if one.get("visibility") == "hidden":
                continue
            if name == "g":
                yield from self._group(one, kind)
            elif name == "text":
                for chunk in chunks_of(one):
                    yield from drawn(*self._placed(chunk, kind))
            elif name == "use":
                yield self._sign(one)
            elif name in ("path", "rect", "ellipse", "polygon", "polyline"):
                yield _shape(one, name)

    def _group(self, group: Tree, kind: str) -> Iterator[Element]:
        own = group.get("class", "").partition(" ")[0]
        if own == "grpSym":  # A brace, where the file asks for none.
            return
        if own == "measure":
            self._stems.clear()
            self._bent.clear()
        elif own == "dir" and (arrows := self._arrows(group)):
            yield from arrows
            return
        elif own == "stem":
            self._stems += (stem for path in group if (stem := _upright(path)) is not None)
        elif own == "staff":
            for path in group.iterfind(_svg("path")):
                path.set("stroke-width", self._staff_line)
        inside = (*self.shapes(group, _KINDS.get(own, kind)), *self._beside_digit(group))
        transform = group.get("transform")
        if own in _WRITTEN and inside:
            transform = self._fitting(group)
        if own not in ("system", "measure") and not transform:
            yield from inside
            return
        attributes = {"class": own} if own == "system" else {}
        attributes |= {"class": "bar"} if own == "measure" else {}
        attributes |= {"transform": transform} if transform else {}
        # A group with a text, be it empty, is written on one line.
        kept = Element("g", attributes, "" if own == "measure" else None)
        kept.children = inside
        yield kept

    def _beside_digit(self, group: Tree) -> Iterator[Element]:
        """Yield the grace notes of a digit; its bends wait for their words, which come later."""
        beside = self._beside.get(group.get("id", ""))
        if beside is None:
            return
        for digit in group.iterfind(_svg("text")):
            for chunk in chunks_of(digit):
                self._bent += [(chunk, beside.bends)] if beside.bends else []
                yield from graces_beside(beside.graces, chunk) if beside.graces else ()

    def _arrows(self, group: Tree) -> tuple[Element, ...]:
        """Return the arrows of a bend for its words; none if a group has other words."""
        for words in (chunk for one in group.iter(_svg("text")) for chunk in chunks_of(one)):
            mine = [one for one in self._bent if one[1][0].words == words.text]
            if mine:
                digit, bends = min(mine, key=lambda one: abs(one[0].x - words.x))
                self._bent.remove((digit, bends))
                return tuple(bends_beside(bends, digit, words.y))
        return ()

    def _fitting(self, group: Tree) -> str | None:
        """Return how words stay on the page; those that are as large as over tablature become smaller."""
        chunks = [chunk for one in group.iter(_svg("text")) for chunk in chunks_of(one)]
        sizes = [run.size for chunk in chunks for run in chunk.runs if not run.music]
        if not sizes:
            return None
        scale = 1 if sizes[0] < self._words * _ON_TAB / 1.3 else 1 / _ON_TAB
        return fitting(chunks, [*group.iter(_svg("rect"))], scale, self._room)

    def _sign(self, use: Tree) -> Element:
        code = use.get(_LINK, "").removeprefix("#").partition("-")[0]
        self.glyphs.add(code)
        return Element(
            "use", {"xlink:href": f"#sign-{code}", "transform": use.get("transform", "")}
        )

    def _placed(self, chunk: Chunk, kind: str) -> tuple[Chunk, str]:
        """Return a text as it is to stand, and what it is."""
        if kind == "heading":
            return _sized(chunk, _TITLE if chunk.runs[0].bold else _UNDER_TITLE), kind
        if kind != "finger":
            return chunk, kind
        usual = self._words * _FINGERS
        finger = self._beside_a_stem(_sized(chunk, min(1, usual / chunk.runs[0].size)))
        if chunk.text not in _PLUCKS:
            return finger, kind
        slanted = tuple(evolve(run, italic=True) for run in finger.runs)
        return evolve(finger, runs=slanted), "pluck"

    def _beside_a_stem(self, finger: Chunk) -> Chunk:
        """Return a finger left of the stem that it would be written over, if there is one."""
        size = finger.runs[0].size
        for x, top, bottom in self._stems:
            near = abs(x - finger.x) < _NEAR * size
            if near and top < finger.y and finger.y - size / 2 < bottom:
                return evolve(finger, x=x - _GAP * size, anchor="end")
        return finger


def _sized(chunk: Chunk, times: float) -> Chunk:
    return evolve(chunk, runs=tuple(evolve(run, size=run.size * times) for run in chunk.runs))


def _upright(path: Tree) -> tuple[float, float, float] | None:
    """Return x, top and bottom of an upright line."""
    found = re.fullmatch(r"M([\d.-]+) ([\d.-]+) L([\d.-]+) ([\d.-]+)", path.get("d", ""))
    if found is None or found[1] != found[3]:
        return None
    top, bottom = sorted((float(found[2]), float(found[4])))
    return float(found[1]), top, bottom


def _shape(shape: Tree, name: str) -> Element:
    kept = {key: shape.attrib[key] for key in _KEPT if key in shape.attrib}
    if "stroke-width" in kept:
        kept["stroke"] = "black"
    return Element(name, kept)


def _svg(tag: str) -> str:
    return f"{{http://www.w3.org/2000/svg}}{tag}"
