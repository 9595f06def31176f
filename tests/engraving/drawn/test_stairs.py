"""What a student ticks."""

from __future__ import annotations

import itertools
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pictures_drawn import assert_inside, assert_no_figures_meet

from fretloom.engraving.drawn.drawing import Box, DrawnLine, Letters
from fretloom.engraving.drawn.stairs import day_boxes, number_boxes, stairs

TEMPOS = st.lists(st.fractions(1, 500, max_denominator=8), min_size=1, max_size=6)


def test_a_ladder_is_a_flight_of_stairs():
    """Each tempo is a stair, higher than the one before, with three boxes on it; the first and the last are bold."""
    picture = stairs([60, 72, 84, 96])
    [way] = [one for one in picture.marks if isinstance(one, DrawnLine)]
    heights = [y for _, y in way.points]
    assert heights == sorted(heights, reverse=True)
    assert len(set(heights)) == 4
    assert [round(one[0] - way.points[0][0], 2) for one in way.points[::2]] == [0, 15.6, 31.2, 46.8]
    assert len([one for one in picture.marks if isinstance(one, Box)]) == 12
    texts = [one for one in picture.marks if isinstance(one, Letters)]
    assert [(one.text, one.bold) for one in texts] == [
        ("60", True),
        ("72", False),
        ("84", False),
        ("96", True),
    ]
    assert picture.title == "Tempo ladder 60 to 96"
    assert picture.says == "Tempo ladder 60, 72, 84, 96; three boxes each."
    assert picture.signs == {"good-turn"}


def test_boxes_stand_on_their_stair():
    """None hangs in the air or sinks in."""
    picture = stairs([60, 80, 100], boxes=2)
    [way] = [one for one in picture.marks if isinstance(one, DrawnLine)]
    for at, box in enumerate(one for one in picture.marks if isinstance(one, Box)):
        x, y = way.points[2 * (at // 2)]
        assert x < box.at[0] < box.at[0] + box.width < way.points[2 * (at // 2) + 1][0]
        assert y - box.at[1] - box.height == pytest.approx(0.5)


def test_one_tempo_and_one_box_are_said_as_one():
    picture = stairs([Fraction(135, 2)], boxes=1)
    assert (picture.title, picture.says) == (
        "Tempo ladder 67.5",
        "Tempo ladder 67.5; one box each.",
    )


@given(TEMPOS, st.integers(1, 6))
def test_ladders_fit_their_picture(tempos: list[Fraction], boxes: int):
    picture = stairs(tempos, boxes)
    assert_inside(picture)
    assert_no_figures_meet(picture)


@pytest.mark.parametrize(("tempos", "boxes"), [([], 3), ([60], 0)])
def test_a_ladder_has_a_stair_and_a_box(tempos: list[int], boxes: int):
    with pytest.raises(ValueError, match="a ladder has"):
        stairs(tempos, boxes)


def test_boxes_for_days_and_numbers():
    """As many as days; in the larger ones a number fits."""
    days, numbers = day_boxes(7), number_boxes(4)
    assert (len(days.marks), len(numbers.marks)) == (7, 4)
    assert (days.title, numbers.title) == (
        "Boxes for seven days",
        "Boxes for a number on each of four days",
    )
    assert (day_boxes(1).title, number_boxes(1).title) == ("A box for a day", "A box for a number")
    assert day_boxes(30).title == "Boxes for 30 days"
    for picture in (days, numbers):
        assert_inside(picture)
        boxes = [one for one in picture.marks if isinstance(one, Box)]
        assert all(a.at[0] + a.width + 1 < b.at[0] for a, b in itertools.pairwise(boxes))
    assert (numbers.marks[0].width, numbers.marks[0].height) == (13, 7)
    for draw in (day_boxes, number_boxes):
        with pytest.raises(ValueError, match="a box at the least"):
            draw(0)
