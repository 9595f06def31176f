"""Common shapes, heard and compared with their names."""

from __future__ import annotations

from itertools import groupby

import pytest

from fretloom.trade.guitar.common_shapes import are_usual, every_shape, usual_shapes
from fretloom.trade.guitar.voicing import frets_text
from fretloom.trade.harmony.fit import fit
from fretloom.trade.harmony.symbol import parse_symbol

GUITAR, UKULELE = (40, 45, 50, 55, 59, 64), (67, 60, 64, 69)
ROOTS = ("C", "C#", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B")
KINDS = {
    suffix: list(shapes) for suffix, shapes in groupby(sorted(every_shape(), key=lambda one: one[2]), lambda one: one[2])
}  # fmt: skip


@pytest.mark.parametrize("suffix", KINDS)
def test_every_shape_sounds_its_name(suffix: str) -> None:
    """On every root each shape has the tones of its chord, and its slash bass lowest."""
    for opens, root, _, bass, frets in KINDS[suffix]:
        name = ROOTS[root] + suffix + ("" if bass is None else f"/{ROOTS[bass]}")
        notes = [note + fret for note, fret in zip(opens, frets, strict=True) if fret is not None]
        symbol = parse_symbol(name)
        assert fit(symbol, notes).accepted, (name, frets)
        assert symbol.quality is not None
        assert symbol.quality.suffix == suffix


def test_plain_shapes_have_their_root_lowest() -> None:
    """But for small parts on the four upper strings, and for chords that are the same on several roots."""
    for suffix in ("", "m", "7", "m7", "maj7", "6", "m6", "sus4", "9", "13", "m7b5"):
        for opens, root, _, bass, frets in KINDS[suffix]:
            if opens == GUITAR and bass is None and frets[:2] != (None, None):
                notes = [note + fret for note, fret in zip(opens, frets, strict=True) if fret is not None]  # fmt: skip
                assert min(notes) % 12 == root, (suffix, frets)


def shapes(opens: tuple[int, ...], root: int, suffix: str = "") -> list[str]:
    """Return the usual shapes of a chord as text."""
    return [frets_text(one.frets) for one in usual_shapes(opens, root, suffix)]


@pytest.mark.parametrize(
    ("root", "suffix", "form"),
    [(5, "", "xx3211"), (11, "m", "xx4432"), (0, "dim7", "x3424x"), (11, "m7b5", "x2323x"),
     (6, "m7", "2x222x"), (7, "13", "3x345x"), (10, "", "xx3331"), (3, "maj7", "xx1333")],
)  # fmt: skip
def test_movable_forms_with_their_small_parts(root: int, suffix: str, form: str) -> None:
    """Full barres and the three and four strings that are plucked of them (common practice, no source)."""
    assert form in shapes(GUITAR, root, suffix)[:3]


def test_open_shapes_come_first_then_the_lowest_place() -> None:
    """F is a barre at 1 with its root on string 6, C at the nut before fret 3."""
    assert shapes(GUITAR, 5)[0] == "133211"
    assert shapes(GUITAR, 0)[0] == "x32010"
    assert shapes(GUITAR, 0).index("x35553") < shapes(GUITAR, 0).index("8-10-10-9-8-8")


def test_the_same_strings_at_another_pitch() -> None:
    """A guitar a whole step down has the shapes of a chord two half steps higher; so has every ukulele."""
    down = tuple(note - 2 for note in GUITAR)
    assert shapes(down, 10) == shapes(GUITAR, 0)
    assert shapes((62, 67, 71, 76), 7) == shapes(UKULELE, 0)
    assert shapes((55, 60, 64, 69), 0)[0] == "0003"


def test_more_bass_strings_are_left_out() -> None:
    """Seven strings have the guitar's shapes on the upper six."""
    assert shapes((35, *GUITAR), 0)[0] == "xx32010"


def test_tunings_without_usual_shapes() -> None:
    """Drop D may try the guitar's; five strings, or four in fifths, have none."""
    assert are_usual(GUITAR)
    assert are_usual(UKULELE)
    assert not are_usual((38, *GUITAR[1:]))
    assert shapes((38, *GUITAR[1:]), 0)[0] == "x32010"
    assert shapes((43, 50, 57, 64), 0) == []
    assert shapes(GUITAR[1:], 0) == []


def test_unknown_kinds_have_no_shape() -> None:
    """What is not common is not made up."""
    assert shapes(GUITAR, 0, "m13b9") == []
