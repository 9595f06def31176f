"""Works the parser's tables out: Lark reads the grammar, and its parser is put into plain data.

States are numbered in the order in which they are met, so that the same grammar gives the same
tables wherever they are made.
"""

from __future__ import annotations

from typing import Any

from fretloom.notation.syntax.parsing.grammar import START_RULES, lark_parser


def tables_data() -> dict[str, Any]:
    """Return the tables of the grammar as plain data, in the shape that `tables.from_data` reads."""
    lark: Any = lark_parser()
    table = lark.parser.parser._parse_table
    numbers = _numbered(table)
    rules = sorted(lark.rules, key=str)
    places = {rule: place for place, rule in enumerate(rules)}
    lexers: list[Any] = []
    return {
        "starts": {
            name: [numbers[table.start_states[name]], numbers[table.end_states[name]]]
            for name in START_RULES
        },
        "states": [
            [
                _place(lexers, _lexer(lark.parser.lexer.lexers[state], lark.ignore_tokens)),
                *_actions(table.states[state], numbers, places),
            ]
            for state in numbers
        ],
        "rules": [_rule(rule) for rule in rules],
        "terminals": {
            terminal.name: [terminal.pattern.value, terminal.pattern.type == "re"]
            for terminal in lark.terminals
        },
        "lexers": lexers,
        "blank": lark.ignore_tokens[0],
    }


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


def _actions(
    moves: Any, numbers: dict[Any, int], places: dict[Any, int]
) -> tuple[dict[str, int], dict[str, int]]:
    """Return what terminals do in a state, and where a rule that is read there leads."""
    actions: dict[str, int] = {}
    after: dict[str, int] = {}
    for symbol, (action, to) in sorted(moves.items()):
        if action.name != "Shift":
            actions[symbol] = -1 - places[to]
        elif symbol.isupper():
            actions[symbol] = numbers[to]
        else:
            after[symbol] = numbers[to]
    return actions, after


def _lexer(lexer: Any, blanks: list[str]) -> list[Any]:
    """Return the terminals that a lexer tries, in order, and the words it does not leave to them."""
    names = [one.name for one in lexer.scanner.terminals if one.name not in blanks]
    words = {
        name: {one.pattern.value: one.name for one in unless.scanner.terminals}
        for name, unless in sorted(lexer.callback.items())
    }
    return [names, words]


def _place(known: list[Any], one: Any) -> int:
    """Return where a value stands in a list, which it is added to if it is new."""
    if one not in known:
        known.append(one)
    return known.index(one)


def _rule(rule: Any) -> list[Any]:
    """Return a rule's origin, node name, size, whether it is inline, and the parts that are kept."""
    assert not rule.options.expand1 and not rule.options.keep_all_tokens
    kept = [
        [place, not part.is_term and part.name.startswith("_")]
        for place, part in enumerate(rule.expansion)
        if not (part.is_term and part.filter_out)
    ]
    origin = str(rule.origin.name)
    return [origin, str(rule.alias or origin), len(rule.expansion), origin.startswith("_"), kept]
