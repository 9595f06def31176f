"""Where strings and frets lie in a diagram."""

from __future__ import annotations

from itertools import pairwise

import pytest
from timelines import STANDARD

from fretloom.engraving.drawn.neck import DrawnNeck, string_widths, window
from fretloom.trade.guitar.tuning import Tuning
from fretloom.trade.music.pitch import parse_pitch


@pytest.mark.parametrize(
    ("frets", "expected"),
    [
        ([0, 3, 2, 0, 1, 0], (0, 4)),
        ([0, 0, 0], (0, 4)),
        ([4, 4], (0, 4)),
        ([5, 7, 5], (4, 8)),
        ([3, 5, 3], (2, 6)),
        ([0, 7, 9], (6, 10)),
        ([1, 6], (0, 6)),
        ([10, 12, 12, 11], (9, 13)),
        ([22, 22, 22], (18, 22)),
        ([0, 21, 22], (18, 22)),
        ([16, 17], (15, 19)),
        ([14, 18, 19], (13, 19)),
    ],
)
def test_the_window_begins_at_the_nut_if_the_shape_fits_there(
    frets: list[int], expected: tuple[int, int]
):
    """Four frets at the least; further up it begins below the lowest finger."""
    assert window(frets) == expected


def test_frets_grow_narrower_as_on_a_real_neck():
    """The twelfth fret halves the string, and each is 2 ** (-1/12) of the one before (equal temperament)."""
    neck = DrawnNeck(strings=6, low=0, high=24, corner=(0, 0))
    assert neck.wire(0) == 0
    assert neck.wire(24) == pytest.approx(neck.length)
    assert neck.wire(12) / neck.length == pytest.approx(0.5 / 0.75)
    widths = [neck.wire(fret) - neck.wire(fret - 1) for fret in range(1, 25)]
    assert all(b / a == pytest.approx(2 ** (-1 / 12)) for a, b in pairwise(widths))


def test_a_finger_lies_behind_its_wire():
    """Nearly in the middle of its fret."""
    neck = DrawnNeck(strings=6, low=4, high=8, corner=(0, 0))
    assert neck.wire(4) < neck.finger(5) < neck.wire(5)
    assert neck.wire(4) == 0
    assert neck.wire(5) - neck.finger(5) == pytest.approx(0.46 * neck.wire(5))


def test_a_neck_stands_or_lies():
    """Upright the thick string is on the left, lying string 1 is on top."""
    here = {"strings": 6, "low": 0, "high": 4}
    upright = DrawnNeck(corner=(5, 10), **here)
    assert (upright.at(6, 0), upright.at(1, 3)) == ((5, 10), (25, 13))
    lying = DrawnNeck(corner=(5, 10), lying=True, **here)
    assert (lying.at(1, 0), lying.at(6, 3)) == ((5, 10), (8, 30))
    small = DrawnNeck(corner=(0, 0), lying=True, step=2.7, size=52.0, **here)
    assert (small.length, small.breadth) == (52.0, pytest.approx(13.5))


def test_a_course_has_two_lines():
    """The second string on its bass side, each as thick as it is low; a single string has one."""
    pitches = tuple(map(parse_pitch, ("E2", "A2", "E4")))
    tuning = Tuning(pitches, (parse_pitch("E3"), None, parse_pitch("E4")))
    neck = DrawnNeck(strings=3, low=0, high=4, corner=(0, 0))
    drawn = list(neck.drawn_strings(tuning, 0, 25))
    assert len(drawn) == 5
    assert [(one.points[0][0], round(one.width, 2)) for one in drawn[:2]] == [
        (pytest.approx(0.4), 0.6),
        (pytest.approx(-0.4), 0.43),
    ]
    assert string_widths(tuning) == pytest.approx((0.6, 0.5292, 0.26), abs=0.001)


def test_thick_lines_are_low_strings():
    """By what they sound: a high string is thin wherever it lies."""
    widths = string_widths(STANDARD)
    assert (widths[0], widths[-1]) == (pytest.approx(0.60), pytest.approx(0.26))
    assert list(widths) == sorted(widths, reverse=True)
    ukulele = string_widths(Tuning(tuple(map(parse_pitch, ("G4", "C4", "E4", "A4")))))
    assert ukulele[1] > ukulele[2] > ukulele[0] > ukulele[3]
    assert string_widths(Tuning(tuple(map(parse_pitch, ("E4", "E4", "E4"))))) == (0.6, 0.6, 0.6)
