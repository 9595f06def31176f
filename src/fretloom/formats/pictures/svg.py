"""Writes pictures of a score as SVG 1.1 (W3C, 2011), a file a page."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import PurePath

from fretloom.formats.musicxml.score import score_of_lesson
from fretloom.formats.pictures.draw import draw
from fretloom.formats.pictures.options import PictureOptions
from fretloom.formats.pictures.page import FONTS, DrawnPage, definitions, page_of
from fretloom.formats.pictures.prepare import prepared
from fretloom.formats.shape import LeftOut, Output, file_name
from fretloom.formats.xml import DECLARATION, Element, written
from fretloom.performance.events import Settings
from fretloom.performance.reading import Reading
from fretloom.text import counted

_STAVES = {
    "notation-and-tab": "Notation and tablature",
    "two-parts": "Notation and tablature",
    "notation": "Notation",
    "tab": "Tablature",
}
_NAMES = {
    "xmlns": "http://www.w3.org/2000/svg",
    "xmlns:xlink": "http://www.w3.org/1999/xlink",
    "version": "1.1",
    "role": "img",
}


def write(reading: Reading, options: PictureOptions) -> tuple[Output, ...]:
    """Draw what is played as SVG, a file a page.

    Raises:
        FretloomError: verovio is not installed, the lesson is too long, or it cannot be written as
            MusicXML (see there).
    """
    pictures, left_out = pictures_of(reading, options)
    return outputs(reading, ".svg", pictures, left_out)


def pictures_of(
    reading: Reading, options: PictureOptions
) -> tuple[tuple[str, ...], tuple[LeftOut, ...]]:
    """Return an SVG document a page, and what they do not show of the lesson."""
    score, left_out = score_of_lesson(reading, options, "a picture")
    bars = score.count(b"<measure ") // score.count(b"<part ")
    drawn = draw(prepared(score), bars, options)
    settings = reading.timeline.settings
    pictures = tuple(
        _document(
            page_of(page, options.staff_size),
            settings,
            _said(settings, options, bars, number, len(drawn)),
        )
        for number, page in enumerate(drawn, start=1)
    )
    return pictures, left_out


def outputs(
    reading: Reading, ending: str, pictures: tuple[str | bytes, ...], left_out: tuple[LeftOut, ...]
) -> tuple[Output, ...]:
    """Return pictures as files: `name.svg`, or `name-1.svg` and so on if there are several."""
    whole = PurePath(file_name(reading.lesson, ending))
    if len(pictures) == 1:
        return (Output(whole.name, pictures[0], left_out),)
    return tuple(
        Output(f"{whole.stem}-{number}{ending}", picture, left_out if number == 1 else ())
        for number, picture in enumerate(pictures, start=1)
    )


def _document(page: DrawnPage, settings: Settings, said: str) -> str:
    size = {
        "width": f"{page.width / 100:g}mm",
        "height": f"{page.height / 100:g}mm",
        "viewBox": f"0 0 {page.width:g} {page.height:g}",
        "font-family": FONTS,
    }
    root = Element("svg", _NAMES | size)
    root.children = [*_head(page, settings, said), *page.shapes]
    return DECLARATION + written(root)


def _head(page: DrawnPage, settings: Settings, said: str) -> Iterator[Element]:
    """Yield what stands before the music: what a screen reader says, the signs, and the paper."""
    yield Element("title", text=settings.title)
    yield Element("desc", text=said)
    yield definitions(page.glyphs)
    yield Element("rect", {"width": "100%", "height": "100%", "fill": "white"})


def _said(settings: Settings, options: PictureOptions, bars: int, page: int, pages: int) -> str:
    """Return the picture in a sentence, for those who do not see it."""
    staves = _STAVES[options.layout]
    capo = f", capo {settings.capo.fret}" if settings.capo.fret and not options.concert else ""
    place = f"; page {page} of {pages}" if pages > 1 else ""
    bars_in_words = counted(bars, "bar")
    return f"{staves}, {bars_in_words}{capo}{place}. Drawn by verovio, with the signs of its font Leipzig."
