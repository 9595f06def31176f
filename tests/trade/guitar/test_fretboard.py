"""The neck in millimetres against published figures."""

from __future__ import annotations

import pytest

from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.guitar.tuning import Capo

#: Distances between frets of a 650 mm scale and the factors of a capo, from the equal-temperament
#: formula as teachers' pages quote it (arithmetic, rounded to a tenth).
SPANS = [((1, 4), 97.6), ((4, 7), 82.1), ((6, 9), 73.1), ((1, 5), 126.6), ((5, 9), 100.5), ((12, 16), 67.0)]  # fmt: skip
CAPO_FACTORS = [(2, 0.891), (3, 0.841), (4, 0.794), (5, 0.749)]


def test_rule_is_the_published_one() -> None:
    """Each fret takes 1/17.817 of what is left (Mottola 2017, American Lutherie 130)."""
    neck = Neck()
    assert round(neck.scale / neck.distance(1), 3) == 17.817


@pytest.mark.parametrize("scale", [609.6, 628.65, 647.7, 650.0])
def test_frets_follow_the_rule_step_by_step(scale: float) -> None:
    """Dividing what is left by 17.817, as builders do, gives the same places within 0.1 mm."""
    neck, place = Neck(scale=scale), 0.0
    for fret in range(1, 21):
        place += (scale - place) / 17.817
        assert neck.distance(fret) == pytest.approx(place, abs=0.1)


def test_fret_table_of_a_25_5_inch_scale() -> None:
    """Fret table for 25.5 in (647.7 mm) as builders print it; from memory, no single source."""
    inches = {1: 1.431, 2: 2.782, 3: 4.057, 4: 5.261, 5: 6.397, 7: 8.481, 9: 10.338, 12: 12.750}
    neck = Neck(scale=25.5)
    for fret, distance in inches.items():
        assert neck.distance(fret) == pytest.approx(distance, abs=0.001)


def test_octave_fret_halves_the_string() -> None:
    """The twelfth fret is the middle of the string, the seventh near its third (2/3 left)."""
    neck = Neck(scale=650)
    assert neck.distance(12) == pytest.approx(325)
    assert neck.distance(7) == pytest.approx(650 / 3, abs=0.5)


@pytest.mark.parametrize(("frets", "millimetres"), SPANS)
def test_spans_of_a_classical_scale(frets: tuple[int, int], millimetres: float) -> None:
    """The same number of frets is shorter higher up."""
    assert Neck(scale=650).span(*frets) == pytest.approx(millimetres, abs=0.05)


@pytest.mark.parametrize(("capo", "factor"), CAPO_FACTORS)
def test_a_capo_shrinks_every_stretch(capo: int, factor: float) -> None:
    """With a capo all distances shrink by one factor."""
    neck = Neck(scale=650)
    assert neck.span(1 + capo, 4 + capo) / neck.span(1, 4) == pytest.approx(factor, abs=0.0005)


def test_strings_spread_towards_the_bridge() -> None:
    """String spacing grows from 7.2 mm at the nut to 9.0 mm halfway (36 at the nut, 54 at the bridge)."""
    neck = Neck()
    assert neck.spacing(0) == pytest.approx(7.2)
    assert neck.spacing(12) == pytest.approx(9.0)
    assert neck.across(1, 0) - neck.across(6, 0) == pytest.approx(36)


def test_partial_capo_moves_only_its_strings() -> None:
    """Frets count from the capo on the strings it covers and from the nut on the others."""
    neck = Neck(capo=Capo(2, (5, 4, 3)))
    assert [neck.stopped(string, 2) for string in (6, 5, 4, 3, 2, 1)] == [2, 4, 4, 4, 2, 2]


def test_frets_end() -> None:
    """A fret beyond the last does not exist, the capo counted."""
    assert Neck(frets=20).has(1, 20)
    assert not Neck(frets=20, capo=Capo(7)).has(1, 14)
