"""The same page as a document to print, made by WeasyPrint: text stays text, and the pages are tagged."""

from __future__ import annotations

from fretloom.errors import FretloomError
from fretloom.formats.shape import Output, file_name
from fretloom.formats.students.handout.html import SHEET_ENDINGS
from fretloom.formats.students.handout.options import HandoutOptions
from fretloom.formats.students.handout.page import page_of
from fretloom.formats.students.handout.templating import ROOM
from fretloom.package_data import packaged_text
from fretloom.performance.reading import Reading

_MISSING = "a PDF of the handout needs another package: pip install 'fretloom[paper]'"
_NO_PANGO = (
    "a PDF of the handout needs Pango, which is not installed here (on Debian: apt install "
    "libpango-1.0-0 libpangoft2-1.0-0; on macOS: brew install pango); or print the page from a browser"
)


def write(reading: Reading, options: HandoutOptions) -> tuple[Output, ...]:
    """Write the page of a lesson as a PDF.

    Raises:
        FretloomError: nothing is played in the lesson, or the extra `paper` is not installed.
    """
    name = file_name(reading.lesson, f"{SHEET_ENDINGS[options.sheet]}.pdf")
    return (Output(name, printed(page_of(reading, options))),)


def printed(page: str) -> bytes:
    """Return a page as a PDF.

    Raises:
        FretloomError: the extra `paper` is not installed.
    """
    try:
        from weasyprint import CSS, HTML
        from weasyprint.urls import URLFetcher
    except ModuleNotFoundError:
        raise FretloomError(_MISSING) from None
    except OSError:
        raise FretloomError(_NO_PANGO) from None
    # A page holds all it needs: nothing is fetched from a network or a disk.
    fetcher = URLFetcher(allowed_protocols={"data"}, fail_on_errors=True)
    running = CSS(string=packaged_text(ROOM, "templates/pdf.css"))
    made: bytes = HTML(string=page, url_fetcher=fetcher).write_pdf(
        stylesheets=[running], pdf_variant="pdf/ua-1"
    )
    return made
