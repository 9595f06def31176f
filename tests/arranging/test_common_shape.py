"""The common shape of a chord, where there is one that sounds it.

The shapes are common practice, no source; what they sound is arithmetic.
"""

from __future__ import annotations

import pytest

from fretloom.api import expand, loads
from fretloom.arranging.common_shape import common_shape, common_shapes, is_open
from fretloom.performance.hands.fingering import hand_of_settings, neck_of_settings
from fretloom.trade.guitar.voicing import frets_text
from fretloom.trade.harmony.symbol import parse_symbol
from fretloom.trade.playability.solver import fingerings


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


@pytest.mark.parametrize("chord", ["Badd9", "Bbmadd9", "Fsus2", "F#6", "Ebmaj7", "G#7#5"])
def test_every_shape_can_be_held(chord: str) -> None:
    """Also by a small hand, and with none past the end of a short neck."""
    head = "  hand small\n  instrument classical\n  capo 7\n"
    settings = expand(loads(f'lesson "Small"\n{head}')).settings
    neck, hand = neck_of_settings(settings), hand_of_settings(settings)
    found = [one.frets for one in common_shapes(parse_symbol(chord), settings)]
    assert found
    for frets in found:
        assert fingerings(frets, neck, hand, limit=1)
        assert max(fret or 0 for fret in frets) + 7 <= neck.frets


def test_beginners_get_what_is_easier_to_hold() -> None:
    """F is four strings for them, and a barre for others; what hides behind the body comes last."""
    assert shape("F") == "133211"
    assert shape("F", "  level beginner\n") == "xx3211"
