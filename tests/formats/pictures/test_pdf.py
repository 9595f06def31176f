"""The score as a document to print."""

from __future__ import annotations

import re
import sys
import zlib
from types import ModuleType

import pytest
from reading_pictures import SHORT, pictures

import fretloom
from fretloom.api import left_out_as_text
from fretloom.errors import FretloomError
from fretloom.frontends.command.main import main
from fretloom.limits import LIMITS
from fretloom.values import evolve

LONG = SHORT.replace("C:3 C:1", "C x60")


def pdf(text: str = SHORT, **options: object) -> fretloom.Output:
    (one,) = pictures(text, "pdf", **options)
    return one


def boxes(data: bytes) -> list[tuple[float, float]]:
    """Return width and height of each page in points (ISO 32000-1, 14.11.2); the first box is that of all."""
    found = re.findall(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", data)
    return [(float(width), float(height)) for width, height in found[1:]]


def streams(data: bytes) -> list[bytes]:
    """Return what the streams of a file hold (ISO 32000-1, 7.3.8 and 7.4.4)."""
    found = []
    for packed in re.findall(rb"stream\n(.*?)\nendstream", data, re.S):
        try:
            found.append(zlib.decompress(packed))
        except zlib.error:
            found.append(packed)
    return found


def test_all_pages_are_in_one_file():
    """As many as there are SVG files, of the same size."""
    one = pdf(LONG)
    assert one.name == "lesson.pdf"
    assert one.data.startswith(b"%PDF-1.")
    assert len(boxes(one.data)) == len(pictures(LONG)) > 1
    for box in boxes(one.data):
        assert box == pytest.approx((595.28, 841.89), abs=0.1)


def test_the_older_library_of_the_same_name_is_told(monkeypatch: pytest.MonkeyPatch):
    """PyPI `fpdf` 1.7.2 is imported by the same name, and has no SVG."""
    monkeypatch.setitem(sys.modules, "fpdf", ModuleType("fpdf"))
    with pytest.raises(FretloomError, match="the older fpdf stands in its place: pip uninstall"):
        pdf()


def test_it_is_the_same_every_time():
    assert pdf().data == pdf().data


def test_it_has_a_title_and_a_date_that_is_always_the_same():
    """ISO 32000-1, 14.3.3: what a program that shows the file calls it, and when it says it was made."""
    data = pdf().data
    assert b"/Title (Two Cups)" in data
    assert b"/CreationDate (D:20000101000000Z)" in data


def test_every_page_draws_what_its_svg_draws():
    """Each sign is an outline in curves; each text is shown once (`Tj` and `TJ`, ISO 32000-1, 9.4.3)."""
    page = max(streams(pdf().data), key=lambda one: one.count(b" c\n") + one.count(b" c "))
    (svg,) = pictures()
    assert len(re.findall(rb"T[jJ]\b", page)) >= svg.text.count("<text")
    assert len(re.findall(rb"\bc\b", page)) > 100


def test_what_its_font_has_not_is_told(capsys: pytest.CaptureFixture[str]):
    """And nothing is logged about it."""
    one = pdf(SHORT.replace("Two Cups", "Zwei Töpfe 鐘 鐘 ש"))
    assert left_out_as_text([one])[-1] == "characters that its font has not: 鐘 ש"
    assert left_out_as_text(
        [pdf(SHORT.replace("Two Cups", "Zwei Töpfe à č Ж Ω"))]
    ) == left_out_as_text([pdf()])
    assert capsys.readouterr() == ("", "")


def test_too_many_bars_are_refused(monkeypatch: pytest.MonkeyPatch):
    """One more than there may be; they are pictures then."""
    from fretloom.formats.pictures import pdf as module

    monkeypatch.setattr(module, "LIMITS", evolve(LIMITS, bars_in_a_pdf=3))
    assert pdf()
    monkeypatch.setattr(module, "LIMITS", evolve(LIMITS, bars_in_a_pdf=2))
    with pytest.raises(FretloomError, match="a PDF has 2 bars at most, and this lesson has 3: "):
        pdf()
    assert pictures()


def test_a_strip_is_no_page():
    with pytest.raises(FretloomError, match="take --paper a4 or letter"):
        pdf(paper="strip")


@pytest.mark.parametrize("name", ["fpdf", "brotli", "verovio"])
def test_a_library_may_be_missing(name: str, monkeypatch: pytest.MonkeyPatch):
    from fretloom.formats.pictures.fonts import letter_fonts

    letter_fonts.cache_clear()
    monkeypatch.setitem(sys.modules, name, None)
    with pytest.raises(FretloomError, match=r"install it with pip install 'fretloom\[pictures\]'$"):
        pdf()


def test_it_is_not_shown_on_a_terminal(tmp_path, monkeypatch: pytest.MonkeyPatch, capsys):
    file = tmp_path / "a.lesson"
    file.write_text(SHORT, "utf-8")
    assert main(["export", str(file), "-o", str(tmp_path / "a.pdf")]) == 0
    assert (tmp_path / "a.pdf").read_bytes().startswith(b"%PDF")
