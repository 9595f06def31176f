"""Brackets outside braces belong to a name, and close in its word."""

from __future__ import annotations

import pytest

import fretloom

HEAD = """voicings
  C        x32010
  Dm(b6)   xx0331
  C(add9)  x32030

patterns
  pinch  p , p m , p i , p m

section a  using pinch
"""


@pytest.mark.parametrize(
    ("bars", "column", "sign"),
    [
        ("C[p i] | C", 4, "["),
        ("C using pinch[p i]", 16, "["),
        ("C using pin(x y)", 14, "("),
        ("C { p , p , p , p } | C(p i)", 26, "("),
        ("C[p", 4, "["),
    ],
)
def test_a_bracket_that_closes_in_another_word_is_open(bars: str, column: int, sign: str) -> None:
    """`C[p i]` is not a voicing `C[p` and a voicing `i]`: beats stand in braces."""
    (found,) = fretloom.loads(f"{HEAD}  {bars}\n").faults
    assert (found.rule, found.span.line, found.span.column) == ("unclosed-bracket", 10, column)
    assert found.message == f"the {sign} that opens here is not closed"


@pytest.mark.parametrize(
    "bars", ["Dm(b6) | C(add9):2 C:2", "C { [p i] , p , (p i) , p }", "C  {p , [ p  i ] , p , p}"]
)
def test_brackets_of_chord_names_and_of_beats_are_closed(bars: str) -> None:
    """Names of several signs, and beats whose items stand apart."""
    assert fretloom.loads(f"{HEAD}  {bars}\n").faults == ()


@pytest.mark.parametrize(
    ("opening", "column", "said"),
    [
        ("section a  using plain)", 23, "there is no ( before this )"),
        ("section a]", 10, "there is no [ before this ]"),
        ("section a[b  using c]", 10, "the [ that opens here is not closed"),
    ],
)
def test_names_in_the_opening_of_a_section_close_their_brackets(
    opening: str, column: int, said: str
) -> None:
    """As names in its bars do."""
    (found, *_) = fretloom.loads(f"{opening}\n  C\n").faults
    assert (found.rule, found.span.column, found.message) == ("unclosed-bracket", column, said)


def test_titles_may_hold_any_bracket() -> None:
    """They stand in quotes."""
    assert fretloom.loads('section a  "Verse (slow"\n  C { p , p , p , p }\n').faults == ()
