"""Common shapes, heard and compared with their names."""

from __future__ import annotations

import pytest

from fretloom.trade.guitar.common_shapes import all_shapes, movable_shape, open_shape
from fretloom.trade.harmony.fit import fit
from fretloom.trade.harmony.symbol import parse_symbol

OPEN = (40, 45, 50, 55, 59, 64)


@pytest.mark.parametrize(("name", "frets"), all_shapes(), ids=[name for name, _ in all_shapes()])
def test_shape_sounds_its_name(name, frets):
    """Each shape has the tones of its chord, and its root or slash bass lowest."""
    notes = [note + fret for note, fret in zip(OPEN, frets, strict=True) if fret is not None]
    symbol = parse_symbol(name)
    found = fit(symbol, notes)
    assert found.accepted
    assert not found.inverted or name == "G/D"
    assert symbol.canonical == name


def test_lowest_place_is_taken():
    """F is a barre at 1 with its root on string 6, C at 3 on string 5, and E goes up an octave."""
    assert movable_shape(5, "") == (1, 3, 3, 2, 1, 1)
    assert movable_shape(0, "") == (None, 3, 5, 5, 5, 3)
    assert movable_shape(4, "") == (None, 7, 9, 9, 9, 7)


def test_unknown_kinds_have_no_shape():
    """What is not common is not made up."""
    assert movable_shape(0, "m13b9") is None
    assert open_shape("Abm") is None
