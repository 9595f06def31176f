"""Each terminal of the grammar has a kind, and each rule that reads lines of a block is known."""

from __future__ import annotations

import pytest

from fretloom.notation.highlighting.kinds import LINE_RULES, OPENING_RULES, TextKind, kind_of
from fretloom.notation.model.words import OPENERS
from fretloom.notation.syntax.parsing.grammar import START_RULES
from fretloom.notation.syntax.parsing.tables import tables


@pytest.mark.parametrize(
    ("terminal", "kind"),
    [
        ("TEMPO", TextKind.WORD),
        ("VBAR", TextKind.SIGN),
        ("FRETS", TextKind.FRETS),
        ("PLUCK", TextKind.PLUCK),
        ("ODD", TextKind.FAULT),
    ],
)
def test_kinds_of_some_terminals(terminal: str, kind: TextKind) -> None:
    """Words are words and signs are signs without being listed; patterns are listed."""
    assert kind_of(terminal) is kind


def test_every_terminal_has_a_kind() -> None:
    """Whoever adds a pattern to the grammar says what it is coloured as."""
    shown = {kind_of(name) for name in tables().terminals if name != tables().blank}
    assert len(shown) > 8
    with pytest.raises(ValueError, match="has no kind"):
        kind_of(tables().blank)


def test_every_rule_of_the_grammar_colours_lines() -> None:
    """The rules that read lines are those of the blocks; `bar` only goes on after a fault."""
    assert {*OPENING_RULES.values(), *LINE_RULES.values(), "bar"} == set(START_RULES)
    assert {*OPENING_RULES, *LINE_RULES} == set(OPENERS)
