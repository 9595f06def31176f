"""The changes of a form, and plucks, in the words a lesson uses for them."""

from __future__ import annotations

from fretloom.notation.model.form import But
from fretloom.notation.model.pattern import Brush, Pluck, Roll
from fretloom.notation.syntax.writing import words as write


def but_words(but: But) -> str:
    """Say what a `but` changes, without the word itself: `last bar: B7 x2`."""
    return write.but(but).removeprefix("but").strip()


def part_words(part: Pluck | Brush | Roll) -> str:
    """Write a pluck, a brush or a roll as a pattern does."""
    return write.played(part)
