"""Changes in the order in which teachers rank them (common practice, no source)."""

from __future__ import annotations

import tomllib
from itertools import product
from pathlib import Path

import pytest
from voicing_table import hand, shape

from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.playability.moving.changes import change
from fretloom.trade.playability.moving.skills import level_of
from fretloom.trade.playability.shape import Fretted

NECK = Neck()
RANKED = tomllib.loads(
    (Path(__file__).parents[3] / "data" / "changes.toml").read_text(encoding="utf-8")
)


def _shape(name: str) -> Fretted:
    frets, fingers = RANKED["shapes"][name].split()
    return Fretted(shape(frets), hand(fingers))


def _rank(pair: str) -> tuple[int, float]:
    """Return what `hands` puts changes in order by: their difficulty, then their seconds."""
    before, after = map(_shape, pair.split())
    time = change(NECK, before, after).time
    return level_of(time), round(time, 2)


def _in_order(easier: str, harder: str) -> float:
    """Return the part of all pairs of a change of each kind in which the easier one comes first."""
    pairs = list(
        product(*([_rank(pair) for pair in RANKED["changes"][kind]] for kind in (easier, harder)))
    )
    return sum(one < other for one, other in pairs) / len(pairs)


@pytest.mark.parametrize(
    ("easier", "harder", "least"),
    [("easy", "hard", 0.99), ("easy", "medium", 0.95), ("medium", "hard", 0.95)],
)
def test_changes_are_ranked_as_teachers_rank_them(easier: str, harder: str, least: float) -> None:
    """Over all pairs of the list, the figures that `docs/explanation/how-it-judges-hands.md` gives."""
    assert _in_order(easier, harder) >= least


@pytest.mark.parametrize(
    ("easier", "harder"),
    [
        ("C Am", "F C"),  # Leaving a barre takes the whole hand.
        ("D Dsus4", "D G"),  # One finger put down beside a shape that stays.
        ("C G", "C F"),  # The barre that is reached counts.
        ("F C", "C F"),  # Laying one down is harder than leaving it.
        ("Am F_small", "Am F"),  # Two strings are not six.
    ],
)
def test_what_makes_a_change_hard(easier: str, harder: str) -> None:
    """The easier of two changes, for a reason that teachers name (common practice, no source)."""
    assert _rank(easier) < _rank(harder)
