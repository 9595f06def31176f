"""Notes as they are written in different countries (common practice, no source)."""

from __future__ import annotations

import pytest

from fretloom.trade.harmony.note_names import read_note, write_note
from fretloom.trade.harmony.symbol import parse_symbol
from fretloom.trade.music.pitch import NoteName


@pytest.mark.parametrize(
    ("note", "written"),
    [
        (NoteName("C", -2), "Ceses"), (NoteName("E", -2), "Eses"), (NoteName("A", -1), "As"),
        (NoteName("B", -1), "B"), (NoteName("B", 0), "H"), (NoteName("F", 2), "Fisis"),
    ],
)  # fmt: skip
def test_german_names(note: NoteName, written: str) -> None:
    """Flats end in es, sharps in is, doubled ones in both twice; B is H, B flat is B."""
    assert write_note(note, "german") == written


@pytest.mark.parametrize("written", ["Si", "Sí"])
def test_si_with_and_without_an_accent(written: str) -> None:
    """Spanish teachers write Sí."""
    assert read_note(written, 0, "romance")[0] == NoteName("B")


def test_an_augmented_fifth_after_a_seventh() -> None:
    """`C7aug` is C7 with its fifth raised, not its sixth."""
    assert parse_symbol("C7aug").pitch_classes == parse_symbol("C7#5").pitch_classes
