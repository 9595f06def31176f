"""The common shape of a chord, where there is one that sounds it.

The shapes are common practice, no source; what they sound is arithmetic.
"""

from __future__ import annotations

import pytest

from fretloom.api import expand, loads
from fretloom.arranging.common_shape import common_shape, is_open
from fretloom.trade.guitar.voicing import frets_text
from fretloom.trade.harmony.symbol import parse_symbol


def shape(chord: str, head: str = "") -> str:
    """Return the frets of a chord's common shape, "" if there is none."""
    settings = expand(loads(f'lesson "Shapes"\n{head}')).settings
    found = common_shape(parse_symbol(chord), settings)
    return "" if found is None else frets_text(found)


@pytest.mark.parametrize(
    ("chord", "frets"),
    [("D", "xx0232"), ("Eb", "xx1343"), ("D/F#", "2x0232"), ("Eb/G", "3x134x"), ("N.C.", "")],
)
def test_open_shapes_come_before_movable_ones(chord: str, frets: str) -> None:
    """Where a chord with a slash has no open shape, it has a movable one over that bass."""
    assert shape(chord) == frets


def test_a_shape_that_sounds_something_else_is_not_taken() -> None:
    """With string 6 at D, 320003 would have F in it and no G lowest; D leaves that string out."""
    assert shape("G", "  tuning drop D\n") == "xx5433"
    assert shape("D", "  tuning drop D\n") == "xx0232"


def test_a_shape_is_for_the_strings_of_an_instrument() -> None:
    """Four strings have those of a ukulele, if they are tuned like one; three have none."""
    assert shape("C", "  tuning G4 C4 E4 A4\n") == "0003"
    assert shape("G", "  tuning D3 G3 B3 E4\n") == "0003"
    assert shape("C", "  tuning G3 D4 A4 E5\n") == ""
    assert shape("C", "  tuning G4 C4 E4\n") == ""


def test_open_shapes() -> None:
    """F is the one common shape of a beginner's book that has no open string."""
    assert is_open((None, None, 0, 2, 3, 2))
    assert not is_open((1, 3, 3, 2, 1, 1))
    assert not is_open(None)
