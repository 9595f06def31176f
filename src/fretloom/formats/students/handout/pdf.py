"""The same page as a document to print, made by WeasyPrint: text stays text, and the pages are tagged."""

from __future__ import annotations

from hashlib import sha256
from typing import Any

from fretloom.errors import FretloomError
from fretloom.formats.shape import Output, file_name
from fretloom.formats.students.handout.html import SHEET_ENDINGS
from fretloom.formats.students.handout.options import HandoutOptions
from fretloom.formats.students.handout.page import page_of
from fretloom.formats.students.handout.templating import ROOM
from fretloom.package_data import packaged_text
from fretloom.performance.reading import Reading

#: Our PDFs carry this in their identifier, so that they are known again.
MADE_HERE = b"fretloom"
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
    name = file_name(reading.lesson, f"{SHEET_ENDINGS[options.sheet]}.pdf")
    return (Output(name, printed(page_of(reading, options, as_pdf=True))),)


def printed(page: str) -> bytes:
    """Return a page as a PDF.

    Raises:
        FretloomError: the extra `paper` is not installed.
    """
    css, html, url_fetcher = _engine()
    # A page holds all it needs: nothing is fetched from a network or a disk.
    fetcher = url_fetcher(allowed_protocols={"data"}, fail_on_errors=True)
    running = css(string=packaged_text(ROOM, "templates/pdf.css"))
    made: bytes = html(string=page, url_fetcher=fetcher).write_pdf(
        stylesheets=[running], pdf_variant="pdf/ua-1", pdf_identifier=_identifier(page)
    )
    return made


def _engine() -> tuple[Any, Any, Any]:
    """Return what of WeasyPrint is needed."""
    try:
        from weasyprint import CSS, HTML
        from weasyprint.urls import URLFetcher
    except ModuleNotFoundError:
        raise FretloomError(_MISSING) from None
    except OSError:
        raise FretloomError(_NO_PANGO) from None
    return CSS, HTML, URLFetcher


def _identifier(page: str) -> bytes:
    """Return the file's identifier (ISO 32000-1, 14.4): the same for the same page; it begins as ours do."""
    return MADE_HERE + sha256(page.encode("utf-8")).digest()[:8]


def ready() -> None:
    """Do nothing if PDFs can be made.

    Raises:
        FretloomError: the extra `paper` is not installed.
    """
    _engine()
