"""A score as pictures: SVG 1.1 documents (W3C, 2011), of which the other formats are made."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import PurePath

from fretloom.errors import FretloomError
from fretloom.formats.musicxml.score import score_of_lesson
from fretloom.formats.pictures.draw import draw
from fretloom.formats.pictures.drawing.margins import over, under
from fretloom.formats.pictures.drawing.page import DrawnPage, definitions, page_of
from fretloom.formats.pictures.options import PictureOptions
from fretloom.formats.pictures.prepare import prepared
from fretloom.formats.shape import LeftOut, Output, file_name
from fretloom.formats.xml import DECLARATION, Element, written
from fretloom.limits import LIMITS
from fretloom.performance.events import Settings
from fretloom.performance.reading import Reading
from fretloom.text import counted
from fretloom.values import frozen

#: Fonts as wide as verovio takes letters to be; only then others.
FONTS = "Times, 'Times New Roman', 'Liberation Serif', 'Nimbus Roman', serif"
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


@frozen
class DrawnScore:
    """A page, or a strip: its title, and what it shows in a sentence."""

    title: str
    said: str
    page: DrawnPage

    @property
    def width(self) -> float:
        """In millimetres."""
        return self.page.width / 100

    @property
    def height(self) -> float:
        """In millimetres."""
        return self.page.height / 100

    @property
    def texts(self) -> Iterator[str]:
        """The words and digits on it."""
        waiting: list[Element | str] = [*self.page.shapes]
        while waiting:
            one = waiting.pop()
            if isinstance(one, Element):
                yield one.text or ""
                waiting += one.children

    def document(self) -> str:
        """Return it as SVG with a title for those who do not see it, on white paper."""
        said = (Element("title", text=self.title), Element("desc", text=self.said))
        paper = Element("rect", {"width": "100%", "height": "100%", "fill": "white"})
        return self._written(FONTS, *said, definitions(self.page.glyphs), paper)

    def drawing(self, font: str) -> str:
        """Return what is drawn as SVG, words in one font."""
        return self._written(font, definitions(self.page.glyphs))

    def _written(self, fonts: str, *before: Element) -> str:
        size = {
            "width": f"{self.width:g}mm",
            "height": f"{self.height:g}mm",
            "viewBox": f"0 0 {self.page.width:g} {self.page.height:g}",
            "font-family": fonts,
        }
        root = Element("svg", _NAMES | size)
        root.children = [*before, *self.page.shapes]
        return DECLARATION + written(root)


def pictures_of(
    reading: Reading, options: PictureOptions, most: int | None = None
) -> tuple[tuple[DrawnScore, ...], tuple[LeftOut, ...]]:
    """Return a picture a page, and what they do not show of the lesson; `most` is the number of bars there may be.

    Raises:
        FretloomError: verovio is not installed, there are more bars than are drawn in a few
            seconds, or the lesson cannot be written as MusicXML (see there).
    """
    score, left_out = score_of_lesson(reading, options, "a picture")
    bars = score.count(b"<measure ") // score.count(b"<part ")
    _refuse_too_many(bars, options.paper, most)
    given, settings = prepared(score), reading.timeline.settings
    pages = [page_of(page, options.staff_size, given.beside) for page in draw(given.score, options)]
    if options.paper == "strip":
        pages[0] = under(pages[0], given.head, options.staff_size)
    else:
        pages[-1] = over(pages[-1], given.foot, options.staff_size)
    pictures = tuple(
        DrawnScore(settings.title, _said(settings, options, bars, number, len(pages)), page)
        for number, page in enumerate(pages, start=1)
    )
    return pictures, left_out


def outputs(
    reading: Reading, ending: str, made: tuple[str | bytes, ...], left_out: tuple[LeftOut, ...]
) -> tuple[Output, ...]:
    """Return pictures as files: `name.svg`, or `name-1.svg` and so on if there are several."""
    whole = PurePath(file_name(reading.lesson, ending))
    if len(made) == 1:
        return (Output(whole.name, made[0], left_out),)
    return tuple(
        Output(f"{whole.stem}-{number}{ending}", picture, left_out if number == 1 else ())
        for number, picture in enumerate(made, start=1)
    )


def _refuse_too_many(bars: int, paper: str, most: int | None) -> None:
    has = f"at most, and this lesson has {bars}"
    if paper == "strip" and bars > LIMITS.bars_in_a_strip:
        raise FretloomError(f"a strip has {LIMITS.bars_in_a_strip} bars {has}: draw pages instead")
    if bars > LIMITS.bars_drawn:
        raise FretloomError(
            f"a picture has {LIMITS.bars_drawn} bars {has}: "
            "export it to MusicXML, and draw it with a notation program"
        )
    if most is not None and bars > most:
        raise FretloomError(f"a PDF has {most} bars {has}: draw pictures instead, --to svg")


def _said(settings: Settings, options: PictureOptions, bars: int, page: int, pages: int) -> str:
    """Return the picture in a sentence, for those who do not see it."""
    staves = _STAVES[options.layout]
    capo = f", capo {settings.capo.fret}" if settings.capo.fret and not options.concert else ""
    place = f"; page {page} of {pages}" if pages > 1 else ""
    bars_in_words = counted(bars, "bar")
    return f"{staves}, {bars_in_words}{capo}{place}. Drawn by verovio, with the signs of its font Leipzig."
