"""Writes a score as PDF (ISO 32000), all pages in one file."""

from __future__ import annotations

import datetime
from typing import Any

from fretloom.errors import FretloomError
from fretloom.formats.pictures.draw import INSTALL, needed
from fretloom.formats.pictures.fonts import NAME, STYLES, font_files, not_in_font
from fretloom.formats.pictures.options import PictureOptions
from fretloom.formats.pictures.picture import DrawnScore, pictures_of
from fretloom.formats.shape import LeftOut, Output, file_name
from fretloom.limits import LIMITS
from fretloom.performance.events import Settings
from fretloom.performance.reading import Reading
from fretloom.version import VERSION

#: A PDF states when it was made; a real date would make every file different.
_DATE = datetime.datetime(2000, 1, 1, tzinfo=datetime.UTC)


def write(reading: Reading, options: PictureOptions) -> tuple[Output, ...]:
    """Draw what is played as PDF.

    Raises:
        FretloomError: as for SVG; or a strip is asked for.
    """
    if options.paper == "strip":
        raise FretloomError("a PDF has pages and no strip: take --paper a4 or letter")
    library: Any = needed("fpdf", "PDF is written by fpdf2")
    if not hasattr(library, "svg"):
        # An older library has the same name, and takes its place where both are installed.
        raise FretloomError(
            "PDF is written by fpdf2, but the older fpdf stands in its place: "
            f"pip uninstall fpdf fpdf2, then {INSTALL}"
        )
    pictures, left_out = pictures_of(reading, options, LIMITS.bars_in_a_pdf)
    missing = not_in_font(text for one in pictures for text in one.texts)
    if missing:
        left_out = (*left_out, LeftOut(f"characters that its font has not: {' '.join(missing)}"))
    data = _document(library, pictures, reading.timeline.settings, missing)
    return (Output(file_name(reading.lesson, ".pdf"), data, left_out),)


def _document(
    library: Any, pictures: tuple[DrawnScore, ...], settings: Settings, missing: str
) -> bytes:
    """Return the file; a question mark stands for each character that is missing."""
    question = str.maketrans(dict.fromkeys(missing, "?"))
    document = library.FPDF(unit="mm")
    document.set_creation_date(_DATE)
    document.set_title(settings.title)
    document.set_author(settings.by)
    document.set_creator(f"fretloom {VERSION}")
    document.set_margin(0)
    document.set_auto_page_break(False)
    with font_files() as files:
        for style, file in zip(STYLES, files, strict=True):
            document.add_font(NAME, style, file)
        for picture in pictures:
            document.add_page(format=(picture.width, picture.height))
            drawing = picture.drawing(NAME).translate(question)
            _, _, shapes = library.svg.SVGObject(drawing).transform_to_page_viewport(document)
            # Nobody else draws them; copying them takes as long as all the rest.
            document.draw_path(shapes, copy=False)
        return bytes(document.output())
