"""The page as a PDF: text that can be selected, tags for those who hear it, the same bytes every time."""

from __future__ import annotations

import io
import sys

import pytest
from reading_through import reading_of

from fretloom.errors import FretloomError
from fretloom.formats.students.handout import pdf
from fretloom.formats.students.handout.options import HandoutOptions

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
@pytest.mark.parametrize(("size", "width"), [("a4", 595.3), ("letter", 612.0)])
def test_pages_have_the_size_of_the_paper(size: str, width: float) -> None:
    """ISO 216: 210 mm; letter: 8.5 inches."""
    from pypdf import PdfReader

    read = PdfReader(io.BytesIO(_written(HandoutOptions(parts=("road",), page_size=size))))
    assert float(read.pages[0].mediabox.width) == pytest.approx(width, abs=0.1)


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
