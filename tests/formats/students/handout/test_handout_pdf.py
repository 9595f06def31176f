"""The page as a PDF: text that can be selected, tags for those who hear it, the same bytes every time."""

from __future__ import annotations

import io
import sys
from base64 import b64decode
from collections.abc import Iterator
from typing import Any

import pytest
from attrs import evolve
from places import EXAMPLES
from reading_through import reading_of

from fretloom.api.reading import examine, load
from fretloom.errors import FretloomError
from fretloom.formats.students.handout import html, pdf, size
from fretloom.formats.students.handout.options import HandoutOptions
from fretloom.limits import LIMITS

LESSON = """
lesson "Kiln Lane Evening"
  capo 2
  plays in C
  meter 4/4

voicings
  C  x32010  fingers .32.1.

patterns
  plain  p , i , p , i

section verse  using plain
  C x2
"""
SHORT = HandoutOptions(parts=("road", "shapes"))


@pytest.fixture
def weasyprint():
    """WeasyPrint, if it and Pango are here."""
    try:
        import weasyprint
    except (ImportError, OSError) as error:
        pytest.skip(f"a PDF of the handout needs the extra `paper` and Pango: {error}")
    return weasyprint


def _written(options: HandoutOptions = SHORT) -> bytes:
    (output,) = pdf.write(reading_of(LESSON), options)
    assert output.name == "weir.handout.pdf"
    return output.data


@pytest.mark.usefixtures("weasyprint")
def test_text_can_be_selected_and_is_there_once() -> None:
    """Read by pypdf."""
    from pypdf import PdfReader

    read = PdfReader(io.BytesIO(_written()))
    text = "\n".join(page.extract_text() for page in read.pages)
    assert "Kiln Lane Evening" in text
    assert "Hands play in" in text
    assert "Verse, 2 bars" not in text
    assert "1 / 1" in text


@pytest.mark.usefixtures("weasyprint")
def test_it_is_tagged_and_says_its_language_and_title() -> None:
    """ISO 14289-1 (PDF/UA-1), 7.1 and 7.2: a structure tree, `Marked`, a language, a title."""
    from pypdf import PdfReader

    read = PdfReader(io.BytesIO(_written()))
    root = read.trailer["/Root"]
    assert "/StructTreeRoot" in root
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en"
    assert read.metadata.title == "Kiln Lane Evening"
    assert "/CreationDate" not in read.metadata


@pytest.mark.usefixtures("weasyprint")
def test_the_bytes_are_the_same_every_time() -> None:
    assert _written() == _written()


@pytest.mark.usefixtures("weasyprint")
@pytest.mark.parametrize(
    ("lesson", "options", "most"),
    [
        ("glaze-and-ash", HandoutOptions(), 9),
        ("kiln-lane-shuffle", HandoutOptions(), 7),
        ("kiln-lane-shuffle", HandoutOptions(large=True), 16),
    ],
)
def test_pages_fill(lesson: str, options: HandoutOptions, most: int) -> None:
    """No more pages than these; each was 1 to 3 more when steps, signs and practice each kept to a page."""
    from pypdf import PdfReader

    reading = examine(load(EXAMPLES / f"{lesson}.lesson")).reading
    (made,) = pdf.write(reading, options)
    pages = PdfReader(io.BytesIO(made.data)).pages
    assert len(pages) <= most
    assert all(len(page.extract_text().split()) > 30 for page in pages)


@pytest.mark.usefixtures("weasyprint")
@pytest.mark.parametrize(("size", "width"), [("a4", 595.3), ("letter", 612.0)])
def test_pages_have_the_size_of_the_paper(size: str, width: float) -> None:
    """ISO 216: 210 mm; letter: 8.5 inches."""
    from pypdf import PdfReader

    read = PdfReader(io.BytesIO(_written(HandoutOptions(parts=("road",), page_size=size))))
    assert float(read.pages[0].mediabox.width) == pytest.approx(width, abs=0.1)


@pytest.mark.usefixtures("weasyprint")
def test_a_press_prints_each_page_as_if_it_were_the_only_one() -> None:
    """The fonts are read once; the bytes are those of a press for each page."""
    reading, press = reading_of(LESSON), pdf.Press()
    for options in (SHORT, HandoutOptions(sheet="song-sheet"), SHORT):
        (page,) = html.write(reading, options)
        (alone,) = pdf.write(reading, options)
        assert press.beside(page, reading, options) == alone


@pytest.mark.usefixtures("weasyprint")
def test_a_pdf_beside_a_page_is_refused_as_one_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    (page,) = html.write(reading_of(LESSON), SHORT)
    monkeypatch.setattr(size, "LIMITS", evolve(LIMITS, bars_in_a_handout_pdf=0))
    with pytest.raises(FretloomError, match="a PDF of a handout has room for 0 bars"):
        pdf.Press().beside(page, reading_of(LESSON), SHORT)


@pytest.mark.usefixtures("weasyprint")
def test_pictures_are_told_in_words() -> None:
    """ISO 14289-1 (PDF/UA-1), 7.3: a figure has an alternate text; here all that the page says of it."""
    from pypdf import PdfReader

    root = PdfReader(io.BytesIO(_written())).trailer["/Root"]
    told = list(_alternate_texts(root["/StructTreeRoot"]))
    assert told[0].startswith("Capo 2. Capo at fret 2")
    assert told[1].startswith("C. Shape C. From the thick string: string 6 is not played;")


def test_a_drawing_becomes_an_image_and_nothing_else_changes() -> None:
    """What is heard of it is an attribute: quotation marks in it are written so (HTML, 13.1.2.3)."""
    page = '<p><svg width="3mm"><title>A "C"</title><desc>&lt;b&gt;</desc></svg></p><svg></svg>'
    made = pdf.with_images(page)
    assert made.startswith(
        '<p><img alt="A &quot;C&quot;. &lt;b&gt;" src="data:image/svg+xml;base64'
    )
    assert made.count("<img ") == 2
    data = b64decode(made.split("base64,")[1].split('"')[0]).decode()
    assert data.startswith('<svg xmlns="http://www.w3.org/2000/svg" width="3mm"><title>')


def _alternate_texts(node: Any) -> Iterator[str]:
    """Yield the alternate texts below a node of a structure tree (ISO 32000-1, 14.7.2 and 14.9.3)."""
    node = node.get_object()
    if isinstance(node, list):
        for one in node:
            yield from _alternate_texts(one)
    elif isinstance(node, dict):
        if "/Alt" in node:
            yield str(node["/Alt"])
        if "/K" in node:
            yield from _alternate_texts(node["/K"])


def test_without_the_extra_the_message_says_what_to_install(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setitem(sys.modules, "weasyprint", None)
    with pytest.raises(FretloomError, match=r"pip install 'fretloom\[paper\]'"):
        pdf.write(reading_of(LESSON), SHORT)


def test_without_pango_the_message_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    class NoPango:
        def __getattr__(self, name: str) -> object:
            raise OSError("cannot load library 'libpango-1.0-0'")

    monkeypatch.setitem(sys.modules, "weasyprint", NoPango())
    with pytest.raises(FretloomError, match="needs Pango"):
        pdf.write(reading_of(LESSON), SHORT)
