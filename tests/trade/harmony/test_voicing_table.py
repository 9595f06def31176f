"""Names against an open collection of voicings (source and licence in tests/data/voicings.tsv)."""

from __future__ import annotations

from functools import cache

import places
import pytest

from fretloom.trade.harmony.fit import fit
from fretloom.trade.harmony.naming import ChordName, names_of
from fretloom.trade.harmony.symbol import ChordSymbol, parse_symbol

TABLE = places.DATA / "voicings.tsv"
OPEN = (40, 45, 50, 55, 59, 64)
#: Positions whose notes contradict their name, found by comparing them with the usual formulas.
KNOWN_WRONG = {
    59, 62, 205, 206, 224, 248, 249, 250, 251, 252, 405, 433, 469, 482, 557, 585, 600, 637, 824, 825,
    826, 827, 1054, 1089, 1352, 1371, 1487, 1562, 1746, 1788, 1944,
}  # fmt: skip
#: The collection's own suffixes. It writes plain dominant sevenths as 7sg.
SUFFIXES = {
    "major": "", "minor": "m", "7sg": "7", "mmaj7": "m(maj7)", "mmaj9": "m(maj9)",
    "mmaj11": "m(maj11)", "mmaj7b5": "dim(maj7)",
}  # fmt: skip


@cache
def positions() -> tuple[tuple[int, ChordSymbol, tuple[int, ...]], ...]:
    """Index, chord symbol and sounding MIDI numbers of every position."""
    lines = [line for line in TABLE.read_text("utf-8").splitlines() if not line.startswith("#")]
    found = []
    for line in lines[1:]:
        index, key, suffix, _, frets, _ = line.split("\t")
        places = zip(OPEN, frets.split("-"), strict=True)
        notes = tuple(open_note + int(fret) for open_note, fret in places if fret != "x")
        found.append((int(index), parse_symbol(key + SUFFIXES.get(suffix, suffix)), notes))
    return tuple(found)


def says_the_same(name: ChordName, symbol: ChordSymbol, notes: tuple[int, ...]) -> bool:
    """Whether a name is the wanted one, spelled in whatever way, or a synonym.

    The same: same root, and the same tones as far as they sound; with the slash bass that the wanted
    one has, if it has one. A synonym: both names contain the same tones (C6 and Am7/C).
    """
    heard = {midi % 12 for midi in notes}
    mine, theirs = set(name.symbol.pitch_classes), set(symbol.pitch_classes)
    if mine == theirs:
        return True
    same_root = name.symbol.root.pitch_class == symbol.root.pitch_class
    bass = symbol.bass.pitch_class if symbol.bass else None
    own_bass = name.symbol.bass.pitch_class if name.symbol.bass else None
    return same_root and mine & heard == theirs & heard and bass in (None, own_bass)


def test_right_positions_raise_no_error(capsys):
    """Every position whose notes are right is accepted under its name."""
    right = [(symbol, notes) for index, symbol, notes in positions() if index not in KNOWN_WRONG]
    accepted = sum(fit(symbol, notes).accepted for symbol, notes in right)
    with capsys.disabled():
        print(f"\n  names accepted: {accepted} of {len(right)} ({accepted / len(right):.2%})")
    assert len(right) == 2038
    assert accepted == len(right)


def test_wrong_positions_are_found(capsys):
    """All 31 positions that sound something else than their name are found."""
    wrong = [(symbol, notes) for index, symbol, notes in positions() if index in KNOWN_WRONG]
    found = sum(not fit(symbol, notes).accepted for symbol, notes in wrong)
    with capsys.disabled():
        print(f"\n  wrong positions found: {found} of {len(wrong)}")
    assert len(wrong) == 31
    assert found == len(wrong)


def test_names_given_are_the_collections_own(capsys):
    """The first name is the collection's in 90 % at least, one of the first three in 98 %."""
    right = [(symbol, notes) for index, symbol, notes in positions() if index not in KNOWN_WRONG]
    first = third = 0
    for symbol, notes in right:
        same = [says_the_same(name, symbol, notes) for name in names_of(notes)[:3]]
        first += same[:1] == [True]
        third += any(same)
    with capsys.disabled():
        shares = f"first {first / len(right):.2%}, in the first three {third / len(right):.2%}"
        print(f"\n  names found: {shares}")
    assert first / len(right) >= 0.90
    assert third / len(right) >= 0.98


@pytest.mark.parametrize(
    ("index", "missing", "foreign", "wrong_bass"),
    [
        (59, ["Bb"], set(), False),  # C9 as E C E G D E
        (252, ["E#"], {0, 4}, False),  # C#9#11 as C E G B G, which is Cmaj7
        (1746, ["G#"], {6}, True),  # Am/G# as F# C E A
    ],
)
def test_what_is_wrong_is_said(index, missing, foreign, wrong_bass):
    """Three of the wrong positions in detail, worked out by hand from their frets."""
    symbol, notes = next((s, n) for i, s, n in positions() if i == index)
    found = fit(symbol, notes)
    assert [str(note) for note in found.missing] == missing
    assert {midi % 12 for midi in found.foreign} == foreign
    assert found.wrong_bass == wrong_bass
