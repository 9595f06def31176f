"""Cuts a statement into its terminals by the tables, right or wrong: for who shows a text and not its meaning.

What does not fit is passed over, a word at a time, and the next word is looked at in the same place;
a bar line that does not fit begins anew. So each character is looked at a bounded number of times.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from fretloom.notation.syntax.parsing.driver import next_token, skip_blanks
from fretloom.notation.syntax.parsing.tables import Tables, tables
from fretloom.values import frozen

#: What stands for something that does not fit.
UNFIT = ""
_BAR_LINE = "VBAR"
#: A statement after which the bars or beats of a rule go on.
_BEFORE_BARS = {"body_line": "E |", "pattern_line": "plain: p |", "form_line": "but bar 1: E |"}
#: A word that does not fit: up to white space or a sign; what a quotation mark opens goes on to the end.
_UNFIT = re.compile(r'"[^\n]*|[^\s|{},"]+|[^\s]')


@frozen
class Scanned:
    """A piece of a statement: its terminal (`UNFIT` for none), and its offsets."""

    terminal: str
    start: int
    end: int


def scanned(text: str, rule: str, begin: int = 0) -> Iterator[Scanned]:
    """Yield the terminals of a statement from an offset on, as a start rule reads it."""
    by = tables()
    states = [by.starts[rule][0]]
    at = skip_blanks(by, text, begin)
    while at < len(text):
        token = next_token(by, text, at, states[-1])
        terminal = token.kind if token is not None else UNFIT
        if token is not None and (to := after_terminal(by, states, terminal)) is not None:
            states.append(to)
            end = token.end
        elif text[at] == "|" and rule in _BEFORE_BARS:
            states = list(_states_before_bars(rule))
            terminal, end = _BAR_LINE, at + 1
        else:
            found = _UNFIT.match(text, at)
            terminal, end = UNFIT, found.end() if found else at + 1
        yield Scanned(terminal, at, end)
        at = skip_blanks(by, text, end)


def after_terminal(by: Tables, states: list[int], terminal: str) -> int | None:
    """Take all rules that a terminal ends as read; return the state after it, None if it does not fit."""
    while (action := by.state(states[-1]).actions.get(terminal)) is not None and action < 0:
        rule = by.rule(-1 - action)
        if rule.size:
            del states[-rule.size :]
        states.append(by.state(states[-1]).after[rule.origin])
    return action


@cache
def _states_before_bars(rule: str) -> tuple[int, ...]:
    by = tables()
    states = [by.starts[rule][0]]
    for one in scanned(_BEFORE_BARS[rule], rule):
        to = after_terminal(by, states, one.terminal)
        assert to is not None
        states.append(to)
    return tuple(states)
