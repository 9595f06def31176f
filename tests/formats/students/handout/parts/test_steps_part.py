"""The steps of a handout: what a long list of them costs."""

from __future__ import annotations

import pytest
from reading_through import reading_of

from fretloom.formats.students.handout.artist import PageArtist
from fretloom.formats.students.handout.options import HandoutOptions
from fretloom.formats.students.handout.page import page_of
from fretloom.formats.students.words.options import WordsOptions
from fretloom.formats.students.words.page import write as in_words
from fretloom.performance.showing import change_use

LESSON = """
lesson "Kiln Lane Evening"
voicings
  C  x32010  fingers .32.1.
  G  320003  fingers 21...3
  E  022100  fingers .231..
section verse
  C | G | C | G
step "Over and over"
"""


SHOWS = "  show change C to G\n  show change G to E\n" * 20


@pytest.fixture
def walks(monkeypatch: pytest.MonkeyPatch) -> list[object]:
    """What is gone through from its first bar to its last."""
    found, walk = list[object](), change_use.HandWalk

    def counted(*given):
        found.append(given)
        return walk(*given)

    monkeypatch.setattr(change_use, "HandWalk", counted)
    return found


def test_a_handout_goes_through_the_song_once_for_all_changes_of_its_steps(
    walks: list[object], monkeypatch: pytest.MonkeyPatch
) -> None:
    """For those that it makes and those that it never makes; each is drawn once and stands wherever it is shown."""
    drawn, draw = list[object](), PageArtist.change

    def counted(*given):
        drawn.append(given)
        return draw(*given)

    monkeypatch.setattr(PageArtist, "change", counted)
    page = page_of(reading_of(LESSON + SHOWS), HandoutOptions(parts=("steps",)))
    assert page.count("Move the middle finger to string 5, fret 2.<") == 20
    assert len(drawn) == 2
    assert len(walks) == 1


def test_words_go_through_the_song_once_for_its_changes_and_those_of_the_steps(
    walks: list[object],
) -> None:
    """That nobody plays the second one does not matter."""
    told = str(in_words(reading_of(LESSON + SHOWS), WordsOptions())[0].data)
    assert "G to E" in told
    assert len(walks) == 1
