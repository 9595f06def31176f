"""Works out the parser's tables: Lark reads the grammar, and its parser is put into lines of text.

States are numbered in the order in which they are met, so that the same grammar gives the same
tables wherever they are made.
"""

from __future__ import annotations

from typing import Any

from fretloom.notation.syntax.parsing.grammar import START_RULES, lark_parser


def table_lines() -> list[str]:
    """Return the tables of the grammar as the lines that `tables.from_lines` reads."""
    from lark import __version__

    lark: Any = lark_parser()
    table = lark.parser.parser._parse_table
    numbers = _numbered(table)
    rules = sorted(lark.rules, key=str)
    places = {rule: place for place, rule in enumerate(rules)}
    lexer_of = {
        state: _lexer(lark.parser.lexer.lexers[state], lark.ignore_tokens) for state in numbers
    }
    lexers = list(dict.fromkeys(lexer_of.values()))
    return [
        f"lark {__version__}",
        f"blank {lark.ignore_tokens[0]}",
        *(
            f"start {name} {numbers[table.start_states[name]]} {numbers[table.end_states[name]]}"
            for name in START_RULES
        ),
        *(f"terminal {_terminal(one)}" for one in sorted(lark.terminals, key=lambda one: one.name)),
        *(f"lexer {one}" for one in lexers),
        *(f"rule {_rule(rule)}" for rule in rules),
        *(
            f"state {lexers.index(lexer_of[state])} {_moves(table.states[state], numbers, places)}"
            for state in numbers
        ),
    ]


def _numbered(table: Any) -> dict[Any, int]:
    """Number the states in the order in which they are reached from the start rules."""
    numbers: dict[Any, int] = {}
    waiting = [table.start_states[name] for name in START_RULES]
    while waiting:
        state = waiting.pop(0)
        if state not in numbers:
            numbers[state] = len(numbers)
            moves = sorted(table.states[state].items())
            waiting += [to for _, (action, to) in moves if action.name == "Shift"]
    return numbers


def _moves(moves: Any, numbers: dict[Any, int], places: dict[Any, int]) -> str:
    """Return what terminals do in a state, and where a rule that is read there leads."""
    actions: list[str] = []
    after: list[str] = []
    for symbol, (action, to) in sorted(moves.items()):
        if action.name != "Shift":
            actions.append(f"{symbol}={-1 - places[to]}")
        else:
            (actions if symbol.isupper() else after).append(f"{symbol}={numbers[to]}")
    return " ".join(actions) + ";" + " ".join(after)


def _terminal(terminal: Any) -> str:
    """Return a terminal's name, its kind, and its text or pattern."""
    assert not terminal.pattern.flags
    kind = "pattern" if terminal.pattern.type == "re" else "text"
    return f"{terminal.name} {kind} {terminal.pattern.value}"


def _lexer(lexer: Any, blanks: list[str]) -> str:
    """Return the terminals that a lexer tries, in order, and the words it does not leave to them."""
    names = [one.name for one in lexer.scanner.terminals if one.name not in blanks]
    words = [
        " ".join([name, *(f"{one.pattern.value}={one.name}" for one in unless.scanner.terminals)])
        for name, unless in sorted(lexer.callback.items())
    ]
    return ";".join([" ".join(names), *words])


def _rule(rule: Any) -> str:
    """Return a rule's origin, node name and size, and the places that are kept, inline ones with a *."""
    assert not rule.options.expand1 and not rule.options.keep_all_tokens
    kept = [
        f"{place}{'*' * (not part.is_term and part.name.startswith('_'))}"
        for place, part in enumerate(rule.expansion)
        if not (part.is_term and part.filter_out)
    ]
    origin = str(rule.origin.name)
    return " ".join([origin, str(rule.alias or origin), str(len(rule.expansion)), *kept])
