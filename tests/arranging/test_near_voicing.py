"""The nearest voicing that sounds a chord symbol."""

from __future__ import annotations

import pytest

from fretloom.api import expand, loads
from fretloom.arranging.near_voicing import nearest_voicing
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.harmony.symbol import parse_symbol

SETTINGS = expand(loads('lesson "Search"\n')).settings


@pytest.mark.parametrize(
    ("frets", "symbol", "nearest"),
    [
        # C with its first string a fret too high: one string back by one.
        ((None, 3, 2, 0, 1, 1), "C", "x32010"),
        # E with a third that is a fret too low becomes major by one finger.
        ((0, 2, 2, 0, 0, 0), "E", "022100"),
        # C with G sharp on top: down to G is nearer than down to the open E.
        ((None, 3, 2, 0, 1, 4), "C", "x32013"),
        # G's lowest string two frets too low: up by two, and not muted.
        ((1, 2, 0, 0, 0, 3), "G", "320003"),
    ],
)
def test_the_fewest_strings_move_by_the_fewest_frets(
    frets: tuple[int | None, ...], symbol: str, nearest: str
) -> None:
    """One string is changed rather than two, by one fret rather than three; muting comes last."""
    found = nearest_voicing(Voicing(name="", frets=frets), parse_symbol(symbol), SETTINGS)
    assert found == nearest


@pytest.mark.parametrize(
    ("frets", "symbol", "nearest"),
    [
        ("x32210", "Am7", "x02010"), ("x32010", "Am7", "x02010"), ("x32010", "Cmaj7", "x32000"),
        ("320003", "Em7", "020003"), ("xx3211", "Dm7", "xx0211"), ("x02210", "C6", "x32210"),
        ("022100", "C#m7", "x42100"), ("x32010", "Em/C", "x32000"), ("022000", "G6", "322000"),
        ("x32010", "Am7/G", "332210"), ("x32010", "C/E", "032010"), ("x02220", "F#m7", "202220"),
    ],
)  # fmt: skip
def test_the_bass_of_the_name_lies_lowest(frets: str, symbol: str, nearest: str) -> None:
    """The thumb begins on the root, or on the slash bass (common practice, no source)."""
    held = tuple(None if fret == "x" else int(fret) for fret in frets)
    chord = parse_symbol(symbol)
    assert nearest_voicing(Voicing(name="", frets=held), chord, SETTINGS) == nearest


def test_a_ukulele_has_no_bass_to_begin_on() -> None:
    """Am from C is one string away, wherever its root lies (arithmetic: A C E A)."""
    ukulele = expand(loads('lesson "Search"\n  tuning ukulele\n')).settings
    held = Voicing(name="", frets=(2, 0, 1, 0))
    assert nearest_voicing(held, parse_symbol("Am"), ukulele) == "2000"
