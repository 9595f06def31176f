"""The tables by which lines are parsed: made from the grammar by Lark, kept beside this module.

They say for each state of an LALR parser what a terminal or a rule leads to, and which terminals to
look for there, in which order (Aho, Lam, Sethi and Ullman, "Compilers", 2nd edition, section 4.7).
Working them out takes some 80 ms and the import of Lark another 20, too long for a command that
should answer at once. The kept tables carry a fingerprint of the grammar; when that has changed
they are not used but worked out anew: they can be out of date but never wrong.
`python -m fretloom.notation.syntax.parsing.tables` writes them again.
"""

from __future__ import annotations

import json
import re
import zlib
from collections.abc import Callable
from functools import lru_cache
from pathlib import Path
from typing import Any

from attrs import field

from fretloom.notation.syntax.parsing.grammar import START_RULES, grammar_text
from fretloom.values import frozen

KEPT = Path(__file__).with_name("tables.json")
#: The shape of the kept tables; another number makes older ones useless.
SHAPE = 1
END = "$END"

Match = Callable[[str, int], re.Match[str] | None]
#: A terminal to look for: its name, its text if it is a word or sign, else what matches it, and
#: the words that are terminals of their own although the pattern fits them.
Sought = tuple[str, str, Match | None, dict[str, str]]


@frozen
class Rule:
    """A rule that may have been read: `kept` are the places of its parts that become children.

    A part marked True is a rule written with `_`, whose own children take its place. `name` is the
    node's name; `inline` that the rule is such a one itself.
    """

    origin: str
    name: str
    size: int
    inline: bool
    kept: tuple[tuple[int, bool], ...]


@frozen
class State:
    """A state of the parser: `actions` by terminal, from 0 up the state to go to, below 0 a rule.

    Rule r stands as -1 - r. `after` gives the state after a rule that began here has been read.
    """

    lexer: int
    actions: dict[str, int]
    after: dict[str, int]


@frozen(eq=False)
class Tables:
    """All of them. `starts` gives, for each start rule, its first and its last state.

    `terminals` has each terminal's text or pattern, and whether it is a pattern; `lexers` the order
    in which terminals are looked for, and the words that patterns do not take.
    """

    starts: dict[str, tuple[int, int]]
    states: tuple[State, ...]
    rules: tuple[Rule, ...]
    terminals: dict[str, tuple[str, bool]]
    lexers: tuple[tuple[list[str], dict[str, dict[str, str]]], ...]
    blank: str
    _sought: dict[int, tuple[Sought, ...]] = field(init=False, factory=dict)
    _matches: dict[str, Match] = field(init=False, factory=dict)

    def sought(self, lexer: int) -> tuple[Sought, ...]:
        """Return the terminals to look for, in order; patterns are compiled on first use."""
        if lexer not in self._sought:
            names, words = self.lexers[lexer]
            found = tuple(self._one(name, words.get(name, {})) for name in names)
            self._sought[lexer] = found
        return self._sought[lexer]

    def _one(self, name: str, words: dict[str, str]) -> Sought:
        text, is_pattern = self.terminals[name]
        return (name, "", self.match(name), words) if is_pattern else (name, text, None, words)

    def match(self, name: str) -> Match:
        """Return what matches a terminal at an offset of a text."""
        if name not in self._matches:
            text, is_pattern = self.terminals[name]
            self._matches[name] = re.compile(text if is_pattern else re.escape(text)).match
        return self._matches[name]

    @property
    def skip(self) -> Match:
        """What matches the white space between tokens."""
        return self.match(self.blank)


def fingerprint() -> str:
    """Return what the tables depend on: the grammar, its start rules, and the tables' own shape."""
    text = "\n".join([str(SHAPE), *START_RULES, grammar_text()])
    return f"{zlib.crc32(text.encode()):08x}-{len(text)}"


@lru_cache(maxsize=1)
def tables() -> Tables:
    """Return the tables of the grammar: the kept ones if they are, else worked out anew."""
    data = kept_data()
    if data is None:
        from fretloom.notation.syntax.parsing.making import tables_data

        data = tables_data()
    return from_data(data)


def kept_data() -> dict[str, Any] | None:
    """Return the kept tables as plain data, None if they are not for this grammar."""
    try:
        data: dict[str, Any] = json.loads(KEPT.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return None
    return data if data.get("fingerprint") == fingerprint() else None


def from_data(data: dict[str, Any]) -> Tables:
    """Make tables from plain data."""
    return Tables(
        starts={name: (first, last) for name, (first, last) in data["starts"].items()},
        states=tuple(State(*state) for state in data["states"]),
        rules=tuple(
            Rule(origin, name, size, inline, tuple((place, rule) for place, rule in kept))
            for origin, name, size, inline, kept in data["rules"]
        ),
        terminals={
            name: (text, is_pattern) for name, (text, is_pattern) in data["terminals"].items()
        },
        lexers=tuple((names, words) for names, words in data["lexers"]),
        blank=data["blank"],
    )


def write_tables(path: Path) -> None:
    """Work the tables out and keep them."""
    from fretloom.notation.syntax.parsing.making import tables_data

    data = {"fingerprint": fingerprint(), **tables_data()}
    path.write_text(
        json.dumps(data, separators=(",", ":"), sort_keys=True) + "\n", encoding="utf-8"
    )


if __name__ == "__main__":
    write_tables(KEPT)
