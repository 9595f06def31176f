"""The same page as a document to print, made by WeasyPrint: text stays text, and the pages are tagged."""

from __future__ import annotations

import re
from base64 import b64encode
from hashlib import sha256
from typing import Any

from fretloom.errors import FretloomError
from fretloom.formats.shape import Output, file_name
from fretloom.formats.students.handout.html import SHEET_ENDINGS
from fretloom.formats.students.handout.lettering import faces, scaled_paper
from fretloom.formats.students.handout.options import HandoutOptions
from fretloom.formats.students.handout.page import page_of, wanted_parts
from fretloom.formats.students.handout.parts.all_parts import Parts
from fretloom.formats.students.handout.parts.player_part import player_style
from fretloom.formats.students.handout.size import refuse_too_much
from fretloom.formats.students.handout.templating import ROOM
from fretloom.package_data import packaged_text
from fretloom.performance.reading import Reading

#: Our PDFs carry this in their identifier, so that they are known again.
MADE_HERE = b"fretloom"
#: A drawing in a page, as `formats/students/svg.py` writes it, and what of it is heard.
_DRAWING = re.compile("<svg.*?</svg>", re.S)
#: What belongs to the player, as the templates have it.
_PLAYER = re.compile(
    r'<(template|script) class="player".*?</\1>\n|<div class="player"[^>]*></div>', re.S
)
_CARD = re.compile(r'<body [^>]*data-scale="([0-9.]+)" data-paper="([a-z0-9]+)">')
_HEARD = re.compile("<(?:title|desc)>(.*?)</(?:title|desc)>", re.S)
_MISSING = "a PDF of the handout needs another package: pip install 'fretloom[paper]'"
_NO_PANGO = (
    "a PDF of the handout needs Pango, which is not installed here (on Debian: apt install "
    "libpango-1.0-0 libpangoft2-1.0-0; on macOS: brew install pango); or print the page from a browser"
)


def write(reading: Reading, options: HandoutOptions) -> tuple[Output, ...]:
    """Write the page of a lesson as a PDF.

    Raises:
        FretloomError: nothing is played in the lesson, a PDF does not hold it, or the extra `paper` is missing.
    """
    return (_output(reading, options, printed(page_of(reading, options, as_pdf=True))),)


def printed(page: str) -> bytes:
    """Return a page as a PDF.

    Raises:
        FretloomError: the extra `paper` is not installed.
    """
    return Press().printed(page)


class Press:
    """Prints pages as PDFs: the fonts are read once for all that it prints.

    Raises:
        FretloomError: the extra `paper` is not installed.
    """

    def __init__(self) -> None:
        self._css, self._html, url_fetcher, fonts = _engine()
        # A page holds all it needs: nothing is fetched from a network or a disk.
        self._fetcher = url_fetcher(allowed_protocols={"data"}, fail_on_errors=True)
        self._fonts = fonts()
        rules = f"{faces()}\n{packaged_text(ROOM, 'templates/pdf.css')}"
        self._style = self._css(string=rules, font_config=self._fonts, url_fetcher=self._fetcher)

    def printed(self, page: str) -> bytes:
        """Return a page as a PDF; what plays in a browser is not in it."""
        page = without_player(page)
        shorter = with_images(page.replace(faces(), ""))
        scale, sheets = 1.0, [self._style]
        if (card := _CARD.search(page)) is not None:
            scale = float(card[1])
            sheets.append(self._css(string=scaled_paper(card[2], scale)))
        made: bytes = self._html(string=shorter, url_fetcher=self._fetcher).write_pdf(
            stylesheets=sheets,
            zoom=scale,
            font_config=self._fonts,
            pdf_variant="pdf/ua-1",
            pdf_identifier=_identifier(page),
        )
        return made

    def beside(self, page: Output, reading: Reading, options: HandoutOptions) -> Output:
        """Return the PDF of a page that is written already: the page is not made again.

        Raises:
            FretloomError: a PDF does not hold the lesson.
        """
        refuse_too_much(Parts(reading, options), wanted_parts(options), as_pdf=True)
        return _output(reading, options, self.printed(page.data.decode("utf-8")))


def _output(reading: Reading, options: HandoutOptions, made: bytes) -> Output:
    return Output(file_name(reading.lesson, f"{SHEET_ENDINGS[options.sheet]}.pdf"), made)


def without_player(page: str) -> str:
    """Return a page as it is without what plays in it."""
    return _PLAYER.sub("", page.replace(f"\n{player_style()}", "", 1))


def with_images(page: str) -> str:
    """Return a page with each of its drawings as an image, with its words for who hears it.

    WeasyPrint reads a drawing in the page as HTML and looks up styles for each of its lines, of which there are
    thousands; an image is read as XML and has its own colours. An image is heard as a whole, a drawing by its title.
    """
    return _DRAWING.sub(_as_image, page)


def _as_image(found: re.Match[str]) -> str:
    drawing = found[0].replace("<svg", '<svg xmlns="http://www.w3.org/2000/svg"', 1)
    heard = ". ".join(one.replace('"', "&quot;") for one in _HEARD.findall(drawing))
    data = b64encode(drawing.encode("utf-8")).decode("ascii")
    return f'<img alt="{heard}" src="data:image/svg+xml;base64,{data}">'


def _engine() -> tuple[Any, Any, Any, Any]:
    """Return what of WeasyPrint is needed."""
    try:
        from weasyprint import CSS, HTML
        from weasyprint.text.fonts import FontConfiguration
        from weasyprint.urls import URLFetcher
    except ModuleNotFoundError:
        raise FretloomError(_MISSING) from None
    except OSError:
        raise FretloomError(_NO_PANGO) from None
    return CSS, HTML, URLFetcher, FontConfiguration


def _identifier(page: str) -> bytes:
    """Return the file's identifier (ISO 32000-1, 14.4): the same for the same page; it begins as ours do."""
    return MADE_HERE + sha256(page.encode("utf-8")).digest()[:8]


def ready() -> None:
    """Do nothing if PDFs can be made.

    Raises:
        FretloomError: the extra `paper` is not installed.
    """
    _engine()
