"""Which terminals can follow one another in a line, worked out from the parser's tables.

Editors colour a line by patterns and not by a parser. So a line is divided into stretches: each begins
with a word or sign of the notation, and in it only some terminals can stand.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from graphlib import TopologicalSorter
from itertools import pairwise

from fretloom.notation.highlighting.kinds import TextKind, kind_of
from fretloom.notation.syntax.parsing.scanning import after_terminal
from fretloom.notation.syntax.parsing.tables import END, tables
from fretloom.values import frozen

#: Words that stand where a name could, and begin nothing.
_BEGIN_NOTHING = frozenset(("REST", "AS_WRITTEN", "UNIT", "DEGREE"))
_SIGNS_THAT_BEGIN = frozenset(("COLON", "LBRACE", "RBRACE"))
_OPENING_BRACKETS = ("LPAR", "LSQB")
#: Brackets in brackets can go on for ever; what can stand in two can stand in more.
_DEEPEST = 2

_Stack = tuple[int, ...]


@frozen
class LineStretch:
    """What stands after something in a line: `forced`, one after the other, then any of `bag`.

    It goes on to one of `ends`, which begin other stretches, or to the end of the line.
    """

    forced: tuple[str, ...]
    bag: tuple[str, ...]
    ends: tuple[str, ...]


@frozen
class LineStretches:
    """The stretches of the lines that a rule reads: from their beginning, and from each terminal that begins one."""

    first: LineStretch
    after: dict[str, LineStretch]


def begins(terminal: str) -> bool:
    """Whether a terminal begins a stretch."""
    word = kind_of(terminal) is TextKind.WORD and terminal not in _BEGIN_NOTHING
    return word or terminal in _SIGNS_THAT_BEGIN


@cache
def stretches_of(rule: str) -> LineStretches:
    """Return the stretches of the lines that a start rule reads."""
    start: _Stack = (tables().starts[rule][0],)
    reached: dict[str, set[_Stack]] = {}
    seen, waiting = {start}, [start]
    while waiting:
        for terminal, stack in _moves(waiting.pop()).items():
            reached.setdefault(terminal, set()).add(stack)
            if stack not in seen:
                seen.add(stack)
                waiting.append(stack)
    after = {one: _stretch(stacks) for one, stacks in sorted(reached.items()) if begins(one)}
    return LineStretches(_stretch({start}), after)


def after_bar_line(rule: str) -> LineStretch:
    """Return what stands in a line of beats that goes on after a bar line."""
    states = stretches_of(rule)
    found = [states.first, *states.after.values()]
    return next(one for one in found if "VBAR" in one.bag)


@cache
def _moves(stack: _Stack) -> dict[str, _Stack]:
    """Return the terminals that can stand in a state, and the state after each."""
    found: dict[str, _Stack] = {}
    for terminal in tables().state(stack[-1]).actions:
        states = list(stack)
        to = after_terminal(tables(), states, terminal) if terminal != END else None
        if to is not None and sum(one in _bracketed() for one in (*states, to)) <= _DEEPEST:
            found[terminal] = (*states, to)
    return found


@cache
def _bracketed() -> frozenset[int]:
    """Return the states that an opening bracket leads to."""
    states = (tables().state(number) for number in range(len(tables().state_lines)))
    moves = (one.actions.get(bracket, -1) for one in states for bracket in _OPENING_BRACKETS)
    return frozenset(to for to in moves if to >= 0)


def _may_end(stack: _Stack) -> bool:
    return END in tables().state(stack[-1]).actions


def _stretch(stacks: set[_Stack]) -> LineStretch:
    """Return what stands after some states."""
    forced: list[str] = []
    while True:
        possible = {one for stack in stacks for one in _moves(stack)}
        if len(possible) != 1 or any(map(_may_end, stacks)):
            break
        (only,) = possible
        forced.append(only)
        stacks = {moves[only] for moves in map(_moves, stacks)}
    bag: set[str] = set()
    ends: set[str] = set()
    seen, waiting = set(stacks), list(stacks)
    while waiting:
        for terminal, stack in _moves(waiting.pop()).items():
            (ends if begins(terminal) else bag).add(terminal)
            if not begins(terminal) and stack not in seen:
                seen.add(stack)
                waiting.append(stack)
    return LineStretch(tuple(forced), in_order(bag), in_order(ends))


def in_order(terminals: Iterable[str]) -> tuple[str, ...]:
    """Return terminals in the order in which the parser looks for them; those in no order by name."""
    wanted = set(terminals)
    return tuple(one for one in _order() if one in wanted)


@cache
def _order() -> tuple[str, ...]:
    sorter: TopologicalSorter[str] = TopologicalSorter()
    for name in sorted(tables().terminals):
        sorter.add(name)
    for number in range(len(tables().state_lines)):
        sought = [name for name, *_ in tables().state(number).sought]
        for earlier, later in pairwise(sought):
            sorter.add(later, earlier)
    return tuple(sorter.static_order())
