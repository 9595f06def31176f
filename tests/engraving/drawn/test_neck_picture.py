"""The neck at the head of a handout."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pictures_drawn import (
    assert_inside,
    assert_mirrored,
    assert_no_figures_meet,
    boxes,
    letters,
    lines,
    tunings,
)
from timelines import STANDARD

from fretloom.engraving.drawn.drawing import Drawing
from fretloom.engraving.drawn.neck_picture import capo_spoken, neck_picture
from fretloom.performance.showing.called_strings import CalledStrings
from fretloom.trade.guitar.tuning import Capo, Tuning
from fretloom.trade.music.pitch import parse_pitch

STRINGS, TOP = range(1, 7), 6.4


def drawn(capo: Capo, tuning: Tuning = STANDARD, mirrored: bool = False) -> Drawing:
    picture = neck_picture(capo, tuning, mirrored_hand=mirrored)
    assert picture is not None
    return picture


def test_without_a_capo_there_is_no_picture():
    assert neck_picture(Capo(), STANDARD) is None


def test_three_frets_beyond_the_capo():
    """Six wires, their numbers, string 1 on top, and the capo between the wires of frets 2 and 3."""
    picture = drawn(Capo(3))
    wires = lines(picture, 0.3)
    [bar] = boxes(picture, "ink")
    assert len(wires) == 6
    texts = [text for text, _ in letters(picture)]
    assert sorted(text for text in texts if text.isdigit()) == list("123456")
    assert [text for text in texts if text.isalpha()] == list("EBGDAE")
    assert "capo 3" in texts
    places = [one.points[0][0] for one in wires]
    assert places[1] < bar.at[0] < bar.at[0] + bar.width < places[2]
    assert (bar.width, bar.height > 5 * 2.7) == (pytest.approx(2.3), True)


def test_frets_grow_narrower():
    """Each by 2 ** (-1/12) (equal temperament)."""
    places = [5.0, *(one.points[0][0] for one in lines(drawn(Capo(4)), 0.3))]
    widths = [b - a for a, b in itertools.pairwise(places)]
    assert widths[1] / widths[0] == pytest.approx(2 ** (-1 / 12))


def test_a_partial_capo_lies_over_its_strings_only():
    """A bar for strings that are neighbours, one each for those that are not."""
    [bar] = boxes(drawn(Capo(2, (5, 4, 3))), "ink")
    covered = [one for one in STRINGS if bar.at[1] < TOP + 2.7 * (one - 1) < bar.at[1] + bar.height]
    assert covered == [3, 4, 5]
    assert len(boxes(drawn(Capo(2, (6, 3))), "ink")) == 2


@pytest.mark.parametrize(
    ("capo", "says"),
    [
        (Capo(3), "Capo at fret 3 across all six strings."),
        (Capo(2, (6, 5, 4, 3, 2, 1)), "Capo at fret 2 across all six strings."),
        (Capo(2, (5, 4, 3)), "Capo at fret 2 on strings 5, 4 and 3 only."),
        (Capo(7, (1,)), "Capo at fret 7 on string 1 only."),
    ],
)
def test_the_picture_says_where_the_capo_goes(capo: Capo, says: str):
    picture = drawn(capo)
    assert (picture.title, picture.says) == (f"Capo {capo.fret}", says)


def test_the_picture_says_strings_by_their_names_where_that_is_wished():
    names = CalledStrings(string_names=("low E", "A", "D", "G", "B", "high E"))
    assert capo_spoken(Capo(2, (3, 4, 5)), 6, names) == (
        "Capo at fret 2 on the A, D and G strings only."
    )
    assert capo_spoken(Capo(2, (1,)), 6, names) == "Capo at fret 2 on the high E string only."


def test_notes_are_called_as_the_lesson_calls_them():
    """German names have H for what English ones call B."""
    tuning = Tuning(tuple(map(parse_pitch, ("B2", "E3", "A3"))))
    picture = neck_picture(Capo(1), tuning, names="german")
    assert picture is not None
    assert [text for text, _ in letters(picture) if text.isalpha()] == ["A", "E", "H"]


@given(st.data(), st.integers(3, 12), st.integers(1, 24))
def test_any_neck_fits_its_picture(data: st.DataObject, strings: int, fret: int):
    """Any tuning, any capo; the mirror image is exact; no figure stands on another."""
    tuning = data.draw(tunings(strings))
    some = tuple(data.draw(st.sets(st.integers(1, strings), max_size=strings)))
    picture = drawn(Capo(fret, some), tuning)
    assert_inside(picture)
    assert_no_figures_meet(picture)
    assert str(fret) in [text for text, _ in letters(picture)]
    assert_mirrored(picture, drawn(Capo(fret, some), tuning, mirrored=True))
