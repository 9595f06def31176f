"""The wall card on one sheet of paper."""

from __future__ import annotations

import io
import re

import pytest
from places import EXAMPLES
from reading_through import reading_of

from fretloom.api.reading import examine, load
from fretloom.formats.students.handout import pdf
from fretloom.formats.students.handout.options import HandoutOptions
from fretloom.formats.students.handout.page import page_of
from fretloom.formats.students.handout.parts.all_parts import Parts
from fretloom.formats.students.handout.parts.card_fit import SCALES, card_fit
from fretloom.formats.students.telling.head import head_of
from fretloom.performance.reading import Reading

LESSON = """
lesson "Kiln Lane Evening"
  meter 4/4

voicings
{voicings}

patterns
  plain  p , i , p , i

section verse  using plain
  {bars}
"""


def _lesson(shapes: int) -> Reading:
    """A lesson with so many shapes."""
    names = [f"C.{chr(97 + at // 5)}{at % 5}" for at in range(shapes)]
    voicings = "\n".join(
        f"  {name}  x{at % 5 + 1}{at // 5 + 1}010" for at, name in enumerate(names)
    )
    return reading_of(LESSON.format(voicings=voicings, bars=" | ".join(names)))


def _fit(reading: Reading, paper: str = "a4"):
    options = HandoutOptions(sheet="wall-card", page_size=paper)
    return card_fit(Parts(reading, options), head_of(reading.timeline.settings), paper)


def test_a_card_is_as_large_as_one_sheet_has_room_for():
    """More shapes, smaller ones; and at some number there is room on several sheets only."""
    fits = [_fit(_lesson(shapes)) for shapes in (1, 4, 8, 12, 16, 25)]
    scales = [one.scale for one in fits if one.whole]
    assert scales == sorted(scales, reverse=True)
    assert scales[0] == 1.0
    assert set(scales) <= set(SCALES)
    assert [one.whole for one in fits] == sorted([one.whole for one in fits], reverse=True)
    assert not fits[-1].whole


def test_rows_of_shapes_are_equally_full():
    """176 mm of A4 between the margins, as much wider as it is printed smaller; eight are four and four, or all."""
    fit = _fit(_lesson(8))
    assert int(176 / fit.scale / fit.shape) in (4, 8)


def test_a_card_of_several_sheets_says_so():
    options = HandoutOptions(sheet="wall-card")
    assert "hang them side by side" in page_of(_lesson(25), options)
    assert "hang them side by side" not in page_of(_lesson(4), options)


@pytest.mark.parametrize("options", [{"large": True}, {"sheet": "handout"}])
def test_only_a_wall_card_of_usual_print_is_made_smaller(options: dict[str, object]):
    page = page_of(_lesson(8), HandoutOptions(**{"sheet": "wall-card", **options}))
    assert "data-scale" not in page


def test_browsers_and_pdf_print_to_one_scale():
    """A browser has it in the style of the page (CSS Viewport 1, `zoom`), the PDF reads it from the page."""
    page = page_of(_lesson(8), HandoutOptions(sheet="wall-card", page_size="letter"))
    zoom, scale, paper = re.search(
        r'style="--zoom:([\d.]+);--shape:[\d.]+mm" data-scale="([\d.]+)" data-paper="(\w+)">', page
    ).groups()
    assert (zoom, paper) == (scale, "letter")
    assert "@media print { .fitted { zoom: var(--zoom); } }" in page


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.lesson")), ids=lambda one: one.stem)
def test_the_card_of_an_example_is_one_sheet_of_its_paper(path, paper: str):
    """As WeasyPrint lays it out: what is reckoned holds. Glaze and Ash has too much for letter, and says so."""
    pypdf = pytest.importorskip("pypdf")
    reading = examine(load(path)).reading
    try:
        (made,) = pdf.write(reading, HandoutOptions(sheet="wall-card", page_size=paper))
    except Exception as error:
        pytest.skip(f"PDFs cannot be made here: {error}")
    pages = pypdf.PdfReader(io.BytesIO(made.data)).pages
    assert len(pages) == (1 if _fit(reading, paper).whole else 2)
    assert _fit(reading, paper).whole or (path.stem, paper) == ("glaze-and-ash", "letter")
    width = {"a4": 595.28, "letter": 612.0}[paper]
    assert float(pages[0].mediabox.width) == pytest.approx(width, abs=0.1)
