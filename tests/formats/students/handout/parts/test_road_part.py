"""The road as it is drawn: room for every name, bars to scale."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fretloom.formats.students.handout.parts.road_part import cells_across, road_part, spoken
from fretloom.formats.students.telling.road import RoadBlock, RoadCell

HALF = Fraction(1, 2)


def _block(*cells: RoadCell, **more) -> RoadBlock:
    return RoadBlock("Verse 1", "verse", sum(one.bars for one in cells), cells, 1, **more)


def _bars(count: int) -> list[RoadCell]:
    return [RoadCell((("E", Fraction(1)),))] * count


def _widths(html: str) -> list[list[float]]:
    lines = re.findall(r'<div class="cells">(.*?)</div>', html, re.DOTALL)
    return [
        [float(one) for one in re.findall(r'class="cell[^"]*" style="width:([0-9.]+)%', line)]
        for line in lines
    ]


@pytest.mark.parametrize(("bars", "across"), [(3, 8), (8, 8), (9, 9), (10, 8), (16, 8)])
def test_eight_bars_a_row_and_nine_where_that_saves_one(bars: int, across: int):
    assert cells_across([_block(*_bars(bars))], large=False) == across


def test_long_names_have_fewer_bars_a_row_and_large_print_has_four():
    long = RoadCell((("F♯m7♭5/C♯", HALF), ("B7♯5♯9", HALF)))
    assert cells_across([_block(long)], large=False) == 4
    assert cells_across([_block(long)], large=True) == 4


def test_bars_as_before_are_one_open_cell_to_scale_and_what_is_new_is_framed():
    block = _block(
        RoadCell(bars=7, as_before=True), *[RoadCell((("B7", Fraction(1)),), new=True)] * 2
    )
    html = road_part([block], large=False)
    assert _widths(html) == [[77.777, 11.111, 11.111]]
    assert html.count('class="cell before"') == 1
    assert html.count('class="cell new"') == 2
    assert "7 bars as before" in html
    assert '<li class="again">' in html


def test_more_bars_as_before_than_a_row_has_fill_one_row():
    block = _block(RoadCell(bars=30, as_before=True), RoadCell((("B7", Fraction(1)),), new=True))
    assert _widths(road_part([block], large=False)) == [[100.0], [12.5]]


def test_every_fourth_bar_begins_heavy():
    html = road_part([_block(*_bars(8))], large=False)
    assert [at for at, one in enumerate(re.findall(r'class="cell( [a-z]+)?"', html)) if one] == [
        0,
        4,
    ]


def test_a_short_chord_keeps_room_for_its_name():
    html = road_part(
        [_block(RoadCell((("E", Fraction(7, 8)), ("C♯m7", Fraction(1, 8)))))], large=False
    )
    wide, short = map(float, re.findall(r'class="part-of" style="width:([0-9.]+)%', html))
    assert 18.4 * short / 100 >= 1.8 + 4 * 1.7 - 0.1
    assert wide + short == pytest.approx(100, abs=0.01)


@given(
    st.lists(
        st.tuples(st.text("ABm7♯", min_size=1, max_size=9), st.integers(1, 8)),
        min_size=1,
        max_size=6,
    )
)
def test_chords_fill_their_bar(parts):
    whole = sum(share for _, share in parts)
    cell = RoadCell(tuple((name, Fraction(share, whole)) for name, share in parts))
    html = road_part([_block(cell)], large=False)
    assert sum(
        map(float, re.findall(r'class="part-of" style="width:([0-9.]+)%', html))
    ) == pytest.approx(100, abs=0.1)


def test_the_road_is_said_in_words():
    block = _block(
        RoadCell(bars=7, as_before=True),
        RoadCell((("B7", HALF), ("E", HALF)), new=True),
        RoadCell(new=True),
    )
    assert spoken(block) == "Verse 1, 9 bars: 7 bars as before, B7 and E, rest."


def test_a_bar_of_rest_says_so():
    assert ">rest</span>" in road_part([_block(RoadCell())], large=False)


def test_a_pickup_is_a_stub_before_the_first_bar():
    block = _block(RoadCell((("G", Fraction(1)),), bars=0, pickup=True), *_bars(8))
    html = road_part([block], large=False)
    assert _widths(html) == [[2.4, *[12.5] * 8]]
    assert list(re.findall(r'class="cell( [a-z]+)?"', html))[:2] == [
        " pickup",
        " fourth",
    ]
    assert spoken(block).startswith("Verse 1, 8 bars: pickup, E,")


def test_a_long_name_stands_over_its_row():
    block = RoadBlock("The verse that goes on and on", "verse", 1, tuple(_bars(1)), 1)
    assert '<li class=" long">' in road_part([block], large=False)
    assert "long" not in road_part([_block(*_bars(1))], large=False)


def test_the_cells_of_a_full_line_have_room_in_it():
    """Rounded up, six sixths are 100.002 percent, and the last cell falls under the line."""
    bars = [RoadCell((("Gsus2", HALF), ("A7sus4", HALF)))] * 6
    [widths] = _widths(road_part([_block(*bars)], large=False))
    assert len(widths) == 6
    assert sum(widths) <= 100
