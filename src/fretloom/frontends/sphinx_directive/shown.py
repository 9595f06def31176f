"""What of a lesson is shown in documentation: texts and drawings, with words for who sees no drawings."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from html import unescape
from textwrap import fill

from fretloom import api
from fretloom.api import Examined, PictureOptions, TabOptions
from fretloom.values import evolve, frozen

#: A description that is longer is left to the text; the picture is called by its titles then.
_LONGEST_WORDS = 500
_COLUMNS = 72
_TITLE = re.compile(r"<title>([^<]*)</title>")
_DESCRIPTION = re.compile(r"<desc>([^<]*)</desc>")
#: The colours for the dark: a page may be light where the system is dark, so a drawing has its own ground.
_STYLE = re.compile(r"\s*<style>[^<]*</style>")
_GROUND = '<rect width="100%" height="100%" fill="#FFFFFF"/>'


@frozen
class ShownText:
    """A text with fixed columns; `language` is the one it is coloured as."""

    text: str
    language: str


@frozen
class ShownDrawing:
    """A drawing (SVG), words in its place for who does not see it, and a text where there are no drawings."""

    svg: str
    words: str
    text: str


ShownPiece = ShownText | ShownDrawing


def pieces(lesson: Examined, what: str, whole: bool) -> Iterator[ShownPiece]:
    """Yield what is shown of a lesson under one of the words of `SHOWN`; `whole` if no part was chosen.

    Raises:
        FretloomError: the lesson cannot be shown so, or the extra for it is not installed.
    """
    return SHOWN[what](lesson, whole)


def each_text_once(shown: Iterable[ShownPiece]) -> list[ShownPiece]:
    """Return pieces of which no drawing is given by a text that stands among them anyway."""
    found = list(shown)
    texts = {one.text for one in found if isinstance(one, ShownText)}
    once: list[ShownPiece] = []
    for one in found:
        if isinstance(one, ShownDrawing):
            once.append(evolve(one, text="") if one.text in texts else one)
            texts.add(one.text)
        else:
            once.append(one)
    return once


def _source(lesson: Examined, _: bool) -> Iterator[ShownPiece]:
    yield ShownText(api.text_of(lesson.lesson).strip("\n"), "fretloom")


def _tab_text(lesson: Examined, whole: bool) -> str:
    options = TabOptions(unrolled=not whole, width=_COLUMNS)
    (page,) = api.export(lesson, "tab", options)
    return page.text.strip("\n")


def _tab(lesson: Examined, whole: bool) -> Iterator[ShownPiece]:
    yield ShownText(_tab_text(lesson, whole), "none")


def _drawn_tab(lesson: Examined, whole: bool) -> Iterator[ShownPiece]:
    (drawing,) = api.export(lesson, "drawn-tab")
    yield _drawing(drawing.text, _tab_text(lesson, whole))


def _shapes(lesson: Examined, _: bool) -> Iterator[ShownPiece]:
    (drawing,), (text,) = api.export(lesson, "shapes"), api.export(lesson, "shapes-text")
    yield _drawing(drawing.text, text.text.strip("\n"))


def _changes(lesson: Examined, _: bool) -> Iterator[ShownPiece]:
    (drawing,) = api.export(lesson, "changes")
    found = map(unescape, _DESCRIPTION.findall(drawing.text))
    yield _drawing(drawing.text, "\n\n".join(fill(one, _COLUMNS) for one in found))


def _score(lesson: Examined, whole: bool) -> Iterator[ShownPiece]:
    options = PictureOptions(paper="a4" if whole else "strip")
    for page in api.export(lesson, "svg", options):
        yield _drawing(page.text, _tab_text(lesson, whole))


def _drawing(svg: str, text: str) -> ShownDrawing:
    titles = [unescape(one).strip() for one in _TITLE.findall(svg)]
    descriptions = " ".join(map(unescape, _DESCRIPTION.findall(svg)))
    words = f"{titles[0]}. {descriptions}" if titles and descriptions else "".join(titles[:1])
    if len(words) > _LONGEST_WORDS:
        words = titles[0]
    return ShownDrawing(_on_paper(svg), words, text)


def _on_paper(svg: str) -> str:
    """Return a drawing in the colours of paper, on a white ground."""
    plain = _STYLE.sub("", svg)
    opening = re.search(r"<svg\b[^>]*>", plain)
    at = opening.end() if opening else 0
    title = _TITLE.search(plain, at)
    if title is not None and not plain[at : title.start()].strip():
        at = title.end()  # A title comes first in what it names.
    return plain[:at] + _GROUND + plain[at:]


#: What can be shown, by the word for it; drawings and texts are called as the formats of an export.
SHOWN: dict[str, Callable[[Examined, bool], Iterator[ShownPiece]]] = {
    "source": _source,
    "tab": _tab,
    "drawn-tab": _drawn_tab,
    "shapes": _shapes,
    "changes": _changes,
    "score": _score,
}
