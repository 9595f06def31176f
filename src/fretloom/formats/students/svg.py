"""Draws pictures as SVG 1.1: the colours, for light and for dark, and how a mark is written.

Colours stand as attributes, for paper and for programs that know no style sheets, and as classes that
a reader in the dark gets other values for. Text contrast is at least 7:1 on paper and in the dark
(WCAG 2.2, 1.4.6), lines of strings and frets have 3:1 and more (1.4.11); a test computes them.
"""

from __future__ import annotations

from collections.abc import Sequence

from fretloom.engraving.drawn.drawing import (
    Box,
    Disc,
    Drawing,
    DrawnLine,
    Ink,
    Letters,
    Mark,
    Point,
)
from fretloom.formats.xml import Element, written

#: What each part of a picture is coloured with, on paper and in the dark.
COLOURS: dict[Ink, tuple[str, str]] = {
    "ink": ("#1C1B19", "#F1EEE7"),
    "soft": ("#5A554E", "#BDB6AB"),
    "line": ("#87817A", "#7E786F"),
    "paper": ("#FFFFFF", "#161513"),
    "tint": ("#F4F1EB", "#24221F"),
    "thumb": ("#93330F", "#F2A27C"),
}
#: How large what follows a chord's root is beside it.
_AFTER = 0.86
FONT = "Andika, 'Fretloom Signs', 'Noto Sans', 'DejaVu Sans', sans-serif"
_DARK = "".join(
    f".f-{ink}{{fill:{dark}}}.s-{ink}{{stroke:{dark}}}" for ink, (_, dark) in COLOURS.items()
)
#: A picture and where its top left corner is, in millimetres.
Placed = tuple[Drawing, float, float]
STYLE = f"@media (prefers-color-scheme:dark){{{_DARK}}}"


def sheet(pictures: Sequence[Drawing], title: str, *, abreast: int, gap: float) -> str:
    """Return an SVG document with pictures in rows of `abreast`, `gap` millimetres apart.

    All columns are as wide as the widest picture, and each row is as high as its highest.
    """
    cell = max((picture.width for picture in pictures), default=0.0)
    rows = [pictures[at : at + abreast] for at in range(0, len(pictures), abreast)]
    across = max((len(row) for row in rows), default=0)
    width = cell * across + gap * max(across - 1, 0)
    placed, top = list[Placed](), 0.0
    for row in rows:
        placed += [(picture, (cell + gap) * at, top) for at, picture in enumerate(row)]
        top += max(picture.height for picture in row) + gap
    return page(placed, title, (width, max(top - gap, 0.0)))


def page(
    pictures: Sequence[Placed],
    title: str,
    size: tuple[float, float],
    around: Sequence[Mark] = (),
) -> str:
    """Return an SVG document of a size, with pictures at their places, and marks that belong to none of them."""
    root = _root(*size)
    root.add("title", text=title)
    root.add("style", text=STYLE)
    for mark in around:
        root.put(_drawn(mark))
    for picture, x, y in pictures:
        inner = root.add("svg", _sized(picture.width, picture.height, x=x, y=y))
        _fill(inner, picture)
    return written(root)


def document(picture: Drawing) -> str:
    """Return an SVG document with one picture."""
    root = _root(picture.width, picture.height)
    root.set("role", "img")
    root.add("style", text=STYLE)
    _fill(root, picture)
    return written(root)


def inline(picture: Drawing, scale: float = 1.0) -> str:
    """Return a picture as an element for a page in HTML, `scale` times as large.

    The page has the classes of the inks for the dark, and the fonts.
    """
    sized = _sized(picture.width, picture.height)
    size = {
        "width": f"{number(picture.width * scale)}mm",
        "height": f"{number(picture.height * scale)}mm",
    }
    root = Element("svg", {**sized, **size, "font-family": FONT})
    _fill(root, picture)
    return written(root)


def _root(width: float, height: float) -> Element:
    return Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "width": f"{number(width)}mm",
            "height": f"{number(height)}mm",
            "viewBox": f"0 0 {number(width)} {number(height)}",
            "font-family": FONT,
        },
    )


def _sized(width: float, height: float, **place: float) -> dict[str, str]:
    given = {name: number(value) for name, value in place.items()}
    given |= {"width": number(width), "height": number(height)}
    return given | {"viewBox": f"0 0 {number(width)} {number(height)}", "role": "img"}


def _fill(parent: Element, picture: Drawing) -> None:
    parent.add("title", text=picture.title)
    if picture.says:
        parent.add("desc", text=picture.says)
    for mark in picture.marks:
        parent.put(_drawn(mark))


def _drawn(mark: Mark) -> Element:
    if isinstance(mark, DrawnLine):
        return Element("path", {"d": _way(mark), **_ink(None, mark.ink, mark.width, mark.dash)})
    if isinstance(mark, Disc):
        x, y = mark.at
        place = {"cx": number(x), "cy": number(y), "r": number(mark.radius)}
        return Element("circle", {**place, **_ink(mark.fill, mark.line, mark.width, mark.dash)})
    if isinstance(mark, Box):
        return Element("rect", {**_box(mark), **_ink(mark.fill, mark.line, mark.line_width)})
    return _text(mark)


def _box(mark: Box) -> dict[str, str]:
    x, y = mark.at
    place = {"x": number(x), "y": number(y), "width": number(mark.width)}
    place["height"] = number(mark.height)
    return place | ({"rx": number(mark.radius)} if mark.radius else {})


def _text(mark: Letters) -> Element:
    x, y = mark.at
    given = {"x": number(x), "y": number(y), "font-size": number(mark.size)}
    if mark.anchor != "start":
        given["text-anchor"] = mark.anchor
    if mark.bold:
        given["font-weight"] = "700"
    text = Element("text", {**given, **_ink(mark.ink, None)}, text=mark.text)
    if mark.after:
        smaller = {"font-size": number(_AFTER * mark.size), "font-weight": "400"}
        text.add("tspan", smaller, text=mark.after)
    return text


def _way(mark: DrawnLine) -> str:
    points = [_at(point) for point in mark.points]
    if mark.curved:
        return f"M{points[0]}C{' '.join(points[1:])}"
    return f"M{'L'.join(points)}"


def _at(point: Point) -> str:
    return f"{number(point[0])} {number(point[1])}"


def _ink(
    fill: Ink | None, line: Ink | None, width: float = 0.0, dash: Sequence[float] = ()
) -> dict[str, str]:
    given = {"fill": COLOURS[fill][0] if fill else "none"}
    classes = [f"f-{fill}"] if fill else []
    if line:
        given |= {"stroke": COLOURS[line][0], "stroke-width": number(width)}
        classes.append(f"s-{line}")
    if dash:
        given["stroke-dasharray"] = " ".join(map(number, dash))
    return {"class": " ".join(classes), **given}


def number(value: float) -> str:
    """Return a length in millimetres, rounded to a hundredth, as the shortest text."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
