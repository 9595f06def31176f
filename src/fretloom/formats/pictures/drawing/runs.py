"""Texts of a drawing: runs of one style each, in chunks that have a place of their own (SVG 2, "Text")."""

from __future__ import annotations

import re
from collections.abc import Iterator
from xml.etree.ElementTree import Element as Tree

from fretloom.formats.pictures.drawing.glyphs import MUSIC_FONT, glyph, width
from fretloom.formats.xml import Element
from fretloom.values import evolve, frozen

#: Accidentals for words in SMuFL, as verovio takes them for chord symbols, and their size there.
_ACCIDENTALS = {"♭": "\uea64", "♮": "\uea65", "♯": "\uea66"}
_SIGN = 16 / 9
_FONT = ("font-family", "font-size", "font-style", "font-weight")


@frozen
class TextRun:
    """Characters of one style; `size` is that of the em, `music` whether they are signs of the music font."""

    text: str
    size: float
    bold: bool
    italic: bool
    music: bool

    @property
    def width(self) -> float:
        """How wide it is, in the units of `size`."""
        ems = width(self.text, music=self.music, bold=self.bold, italic=self.italic)
        return self.size * ems


@frozen
class Chunk:
    """Runs after one another; `anchor` is what of them stands at x: "start", "middle" or "end"."""

    x: float
    y: float
    anchor: str
    runs: tuple[TextRun, ...]

    @property
    def text(self) -> str:
        """All its characters."""
        return "".join(run.text for run in self.runs)


def chunks_of(text: Tree) -> Iterator[Chunk]:
    """Yield the chunks of a `text` element, without those that have no characters."""
    place, runs = (0.0, 0.0, "start"), list[TextRun]()
    for given, run in _walked(text, {}, {}):
        if given is not None:
            yield from _chunk(place, runs)
            place, runs = _place(given), []
        if run is not None:
            before = runs.pop() if runs and _alike(runs[-1], run) else evolve(run, text="")
            runs.append(evolve(run, text=before.text + run.text))
    yield from _chunk(place, runs)


def _walked(
    element: Tree, font: dict[str, str], place: dict[str, str]
) -> Iterator[tuple[dict[str, str] | None, TextRun | None]]:
    """Yield the places that are given inside an element, and its runs, in their order."""
    font = font | {name: element.attrib[name] for name in _FONT if name in element.attrib}
    given = {
        name: element.attrib[name] for name in ("x", "y", "text-anchor") if name in element.attrib
    }
    place = place | given
    if "x" in given or "y" in given:
        yield place, None
    for run in runs_of(element.text, font):
        yield None, run
    for child in element:
        if child.tag.endswith("}tspan"):
            yield from _walked(child, font, place)
        for run in runs_of(child.tail, font):
            yield None, run


def _alike(one: TextRun, other: TextRun) -> bool:
    return evolve(one, text="") == evolve(other, text="")


def runs_of(text: str | None, font: dict[str, str]) -> Iterator[TextRun]:
    """Yield a text in runs: accidentals are signs of music, for many fonts of letters have none."""
    for piece in re.split(f"([{''.join(_ACCIDENTALS)}])", text or ""):
        run = _run(piece, font)
        if piece in _ACCIDENTALS:
            yield evolve(
                run,
                text=_ACCIDENTALS[piece],
                size=run.size * _SIGN,
                bold=False,
                italic=False,
                music=True,
            )
        elif piece:
            yield run


def _run(text: str, font: dict[str, str]) -> TextRun:
    return TextRun(
        text=text.replace("\xa0", " "),
        size=float(font.get("font-size", "0").removesuffix("px")),
        bold=font.get("font-weight") == "bold",
        italic=font.get("font-style") == "italic",
        music=font.get("font-family") == MUSIC_FONT,
    )


def _place(given: dict[str, str]) -> tuple[float, float, str]:
    return float(given.get("x", 0)), float(given.get("y", 0)), given.get("text-anchor", "start")


def _chunk(place: tuple[float, float, str], runs: list[TextRun]) -> Iterator[Chunk]:
    if any(run.text.strip() for run in runs):
        yield Chunk(*place, tuple(runs))


def drawn(chunk: Chunk, kind: str) -> Iterator[Element]:
    """Yield what draws a chunk; signs of the music font as outlines, so that no font is needed for them.

    Each piece beside a sign has its own place, since nothing else keeps them together.
    """
    if not any(run.music for run in chunk.runs):
        yield _text(chunk, kind)
        return
    whole = sum(run.width for run in chunk.runs)
    x = chunk.x - whole * {"start": 0.0, "middle": 0.5, "end": 1.0}[chunk.anchor]
    for run in chunk.runs:
        if run.music:
            yield from _signs(run, x, chunk.y)
        elif run.text.strip():
            # Blanks at the start of a text are not drawn, so what follows is put where it belongs.
            blank = evolve(run, text=run.text[: -len(run.text.lstrip())]).width
            rest = evolve(run, text=run.text.strip())
            yield _text(Chunk(x + blank, chunk.y, "start", (rest,)), kind)
        x += run.width


def _signs(run: TextRun, x: float, y: float) -> Iterator[Element]:
    scale = run.size / 1000
    for character in run.text:
        found = glyph(f"{ord(character):04X}")
        if found is not None:
            to = f"translate({number(x)} {number(y)}) scale({number(scale)}) {found.transform}"
            yield Element("path", {"transform": to, "d": found.path})
        x += evolve(run, text=character).width


def _text(chunk: Chunk, kind: str) -> Element:
    attributes = {"class": kind} if kind else {}
    attributes |= {"x": number(chunk.x), "y": number(chunk.y)}
    if chunk.anchor != "start":
        attributes["text-anchor"] = chunk.anchor
    styles = [(run, _style(run)) for run in chunk.runs if run.text]
    if all(style == styles[0][1] for _, style in styles):
        return Element("text", attributes | styles[0][1], chunk.text.strip())
    text = Element("text", attributes, "")
    for run, style in styles:
        text.add("tspan", style, run.text)
    return text


def _style(run: TextRun) -> dict[str, str]:
    style = {"font-size": number(run.size)}
    if run.italic:
        style["font-style"] = "italic"
    if run.bold:
        style["font-weight"] = "bold"
    return style


def number(value: float) -> str:
    """Return a number as short as SVG takes it, to a thousandth."""
    return f"{value:.3f}".rstrip("0").rstrip(".")
