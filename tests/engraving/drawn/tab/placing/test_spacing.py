"""Where times lie in a bar."""

from __future__ import annotations

from fractions import Fraction

import pytest

from fretloom.engraving.drawn.tab.placing.spacing import Crowd, Lane, TakenRoom, placed, scale_of

QUARTERS = tuple(Fraction(at) for at in range(4))


def crowd(*taken: tuple[str, float, float], length: int = 4, gap: float = 0.2) -> Crowd:
    lane = Lane(tuple(TakenRoom(Fraction(at), left, right) for at, left, right in taken), gap)
    return Crowd(Fraction(length), QUARTERS, (lane,))


def test_the_smallest_distance_is_a_slot():
    """4.6 mm; a quarter note here, half of one where something stands between."""
    assert scale_of([crowd()]).quarter == pytest.approx(4.6)
    halves = Crowd(Fraction(4), (*QUARTERS, Fraction(1, 2)), ())
    assert scale_of([crowd(), halves]).quarter == pytest.approx(9.2)
    fine = Crowd(Fraction(4), (Fraction(1, 32),), ())
    assert scale_of([fine]).quarter == pytest.approx(18.4)


def test_what_stands_close_makes_the_scale_wider():
    """So that both and the gap find room."""
    scale = scale_of([crowd(("0", 1, 5), ("1", 3, 1))])
    assert scale.quarter == pytest.approx(8.2)
    places = placed(crowd(("0", 1, 5), ("1", 3, 1)), scale)
    assert places.x(Fraction(1)) - places.x(Fraction(0)) == pytest.approx(8.2)
    assert places.x(Fraction(1, 2)) == pytest.approx(3 + 4.1)


def test_the_last_finds_room_before_the_bar_line():
    """.4 from it; the bar's end lies 1.0 behind its last time."""
    one = crowd(("3", 1, 9))
    assert (
        placed(one, scale_of([one])).width - placed(one, scale_of([one])).x(Fraction(3))
        >= 9.4 - 1e-9
    )


def test_the_first_finds_room_behind_the_bar_line():
    """The same for all bars."""
    scale = scale_of([crowd(("0", 5, 1)), crowd()])
    assert scale.lead == pytest.approx(5.4)


def test_what_is_too_fine_is_moved_apart_in_its_bar():
    """The scale stays bounded."""
    one = crowd(("0", 1, 1.3), ("1/64", 1.3, 1.3), ("1/32", 1.3, 1))
    scale = scale_of([one])
    assert scale.quarter <= 26
    places = placed(one, scale)
    first, second, third = (places.x(Fraction(at, 64)) for at in range(3))
    assert second - first == pytest.approx(2.8)
    assert third - second == pytest.approx(2.8)
    assert places.x(Fraction(3)) == pytest.approx(scale.lead + 3 * scale.quarter)
