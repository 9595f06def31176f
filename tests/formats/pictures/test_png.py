"""Pictures made of dots, read by pillow, a library of its own for pictures."""

from __future__ import annotations

import io
import sys

import pytest
from PIL import Image
from reading_pictures import SHORT

import fretloom
from fretloom.errors import FretloomError
from fretloom.formats.pictures import png
from fretloom.limits import LIMITS
from fretloom.values import evolve


def images(text: str = SHORT, **options: object) -> list[Image.Image]:
    lesson = fretloom.loads(text)
    return [
        Image.open(io.BytesIO(one.data)).convert("L")
        for one in fretloom.export(lesson, "png", fretloom.DotsOptions(**options))
    ]


@pytest.mark.parametrize(
    ("dpi", "size"), [(72, (595, 842)), (150, (1240, 1754)), (300, (2480, 3508))]
)
def test_a_page_has_the_dots_that_are_asked_for(dpi: int, size: tuple[int, int]):
    """A4 in dots per inch, as tables of paper sizes have it (common practice, no source)."""
    (one,) = images(dpi=dpi)
    assert one.size == size


def test_pages_are_numbered_files():
    some = fretloom.export(fretloom.loads(SHORT.replace("C:3 C:1", "C x60")), "png")
    assert [one.name for one in some][:2] == ["lesson-1.png", "lesson-2.png"]


def ink(image: Image.Image, box: tuple[float, float, float, float]) -> int:
    """Return how many dots of a part (left, top, right, bottom, as shares of the page) are dark."""
    width, height = image.size
    part = image.crop(
        tuple(round(share * size) for share, size in zip(box, [width, height] * 2, strict=True))
    )
    return sum(part.histogram()[:128])


def test_words_and_music_are_drawn_on_white_paper():
    """The title in the middle at the top, the music under it at full width, nothing at the edges."""
    (one,) = images()
    assert one.getpixel((0, 0)) == 255
    assert ink(one, (0.3, 0.03, 0.7, 0.07)) > 100
    assert ink(one, (0.05, 0.08, 0.95, 0.3)) > 5_000
    for edge in ((0, 0, 0.03, 1), (0.97, 0, 1, 1), (0, 0, 1, 0.03), (0, 0.5, 1, 1)):
        assert ink(one, edge) == 0


def test_words_need_no_font_of_the_system(monkeypatch: pytest.MonkeyPatch):
    """Without any the picture is the same to a dot."""
    import resvg_py

    (usual,), draw = images(), resvg_py.svg_to_bytes
    monkeypatch.setattr(
        resvg_py, "svg_to_bytes", lambda **given: draw(**given, skip_system_fonts=True)
    )
    (alone,) = images()
    assert usual.tobytes() == alone.tobytes()


def test_too_many_dots_are_refused_before_they_are_made(monkeypatch: pytest.MonkeyPatch):
    dots = 1240 * 1754
    monkeypatch.setattr(png, "LIMITS", evolve(LIMITS, dots=dots))
    assert images()
    monkeypatch.setattr(png, "LIMITS", evolve(LIMITS, dots=dots - 1))
    monkeypatch.setattr(png, "_png", lambda *_: pytest.fail("they are made"))
    with pytest.raises(FretloomError, match="take a smaller --dpi"):
        images()


def test_the_library_that_makes_dots_may_be_missing(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setitem(sys.modules, "resvg_py", None)
    with pytest.raises(FretloomError, match=r"install it with pip install 'fretloom\[pictures\]'$"):
        images()


def test_a_picture_may_not_have_too_many_dots_alone(monkeypatch: pytest.MonkeyPatch):
    """All of them may have more."""
    dots = 1240 * 1754
    monkeypatch.setattr(png, "LIMITS", evolve(LIMITS, dots_of_one=dots))
    assert images()
    monkeypatch.setattr(png, "LIMITS", evolve(LIMITS, dots_of_one=dots - 1))
    with pytest.raises(FretloomError, match="a picture would have 2,174,960 dots"):
        images()


@pytest.mark.parametrize("paper", ["a4", "strip"])
@pytest.mark.parametrize("words", ["as it was always sung at the lane " * 5, "x" * 300])
def test_long_words_stay_on_the_page(words: str, paper: str):
    """A name of a section and a cue, in the first bar and in the last: nothing is cut off at a side."""
    text = SHORT.replace('"Verse"', f'"{words}"').replace("C | C |", f'"{words}" C | C |')
    text += f'section last using plain "{words} again"\n  C | C | "{words}" C\n'
    for image in images(text, paper=paper, dpi=72):
        for x in (0, 1, image.width - 2, image.width - 1):
            assert image.crop((x, 0, x + 1, image.height)).getextrema() == (255, 255)
