"""How much a page may hold: counted before anything is drawn."""

from __future__ import annotations

import pytest
from attrs import evolve
from reading_through import reading_of

from fretloom.errors import FretloomError
from fretloom.formats.students.handout import pdf, size
from fretloom.formats.students.handout.options import HandoutOptions
from fretloom.formats.students.handout.page import page_of
from fretloom.formats.students.handout.parts.all_parts import Parts
from fretloom.limits import LIMITS

LESSON = """
lesson "Kiln Lane Evening"
voicings
  C  x32010  fingers .32.1.
  G  320003  fingers 21...3
patterns
  plain  p , i , p , i
section verse using plain
  C | G | C { p i m a , p i m a , p , p }
step "Slowly"
  show change C to G
"""
PARTS = [("shapes", 2), ("picking", 2), ("steps", 1), ("song", 4), ("road", 0)]


@pytest.mark.parametrize(("part", "drawn"), PARTS)
def test_each_picture_counts_and_a_bar_of_many_notes_for_more(part: str, drawn: int) -> None:
    """Counted by hand: the third bar has ten notes."""
    assert size.drawn_in(Parts(reading_of(LESSON), HandoutOptions()), (part,)) == drawn


def test_more_than_a_page_holds_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """One more than there may be; with fewer parts it is drawn."""
    song = HandoutOptions(parts=("song",))
    monkeypatch.setattr(size, "LIMITS", evolve(LIMITS, bars_in_a_handout=4))
    assert page_of(reading_of(LESSON), song)
    monkeypatch.setattr(size, "LIMITS", evolve(LIMITS, bars_in_a_handout=3))
    with pytest.raises(FretloomError, match=r"room for 3 bars .* would take 4: choose fewer parts"):
        page_of(reading_of(LESSON), song)
    assert page_of(reading_of(LESSON), HandoutOptions(parts=("shapes",)))


def test_a_pdf_holds_less(monkeypatch: pytest.MonkeyPatch) -> None:
    """It is refused before the page is made, whether or not there is a library for it."""
    monkeypatch.setattr(size, "LIMITS", evolve(LIMITS, bars_in_a_handout_pdf=3))
    with pytest.raises(FretloomError, match=r"would take 4: .*, or print the page from a browser"):
        pdf.write(reading_of(LESSON), HandoutOptions(parts=("song",)))
