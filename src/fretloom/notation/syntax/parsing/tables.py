"""The tables by which lines are parsed: made from the grammar by Lark, kept beside this module.

They say for each state of an LALR parser what a terminal or a rule leads to, and which terminals to
look for there, in which order (Aho, Lam, Sethi and Ullman, "Compilers", 2nd edition, section 4.7).
Working them out takes some 80 ms and the import of Lark another 20, too long for a command that
should answer at once. The kept tables carry a fingerprint of the grammar; when that has changed
they are worked out again instead: they can be out of date but never wrong.
`python -m fretloom.notation.syntax.parsing.tables` writes them again.

They are kept as lines, each with a word that says what it is and then its parts, separated by
blanks; a line is read when it is needed, since most lessons only meet half of the states.
"""

from __future__ import annotations

import re
import zlib
from collections.abc import Callable
from functools import lru_cache
from pathlib import Path

from attrs import field

from fretloom.notation.syntax.parsing.grammar import START_RULES, grammar_text
from fretloom.package_data import packaged_text
from fretloom.values import frozen

KEPT = "tables.txt"
#: The shape of the kept tables; another number makes older ones useless.
SHAPE = 2
END = "$END"

Match = Callable[[str, int], re.Match[str] | None]
#: A terminal to look for: its name, its text if it is a word or sign, else what matches it, and
#: the words that are terminals of their own although the pattern fits them.
Sought = tuple[str, str, Match | None, dict[str, str]]


@frozen
class GrammarRule:
    """A rule that can be read: `kept` are the places of its parts that become children.

    A part marked True is a rule written with `_`, whose own children take its place. `name` is the
    node's name; `inline` says that the rule is written so itself.
    """

    origin: str
    name: str
    size: int
    inline: bool
    kept: tuple[tuple[int, bool], ...]


@frozen
class State:
    """A state of the parser: `actions` by terminal, from 0 up the state to go to, below 0 a rule.

    GrammarRule r stands as -1 - r. `after` gives the state after a rule that began here has been read;
    `sought` the terminals to look for, in order.
    """

    sought: tuple[Sought, ...]
    actions: dict[str, int]
    after: dict[str, int]


@frozen(eq=False)
class Tables:
    """All the tables, each kind as the lines in which it is kept.

    `starts` gives, for each start rule, its first and its last state; `terminals` each terminal's
    text or pattern, and whether it is a pattern; `blank` is the one for white space.
    """

    starts: dict[str, tuple[int, int]]
    terminals: dict[str, tuple[str, bool]]
    blank: str
    rule_lines: list[str]
    state_lines: list[str]
    lexer_lines: list[str]
    _states: dict[int, State] = field(init=False, factory=dict)
    _rules: dict[int, GrammarRule] = field(init=False, factory=dict)
    _lexers: dict[int, tuple[Sought, ...]] = field(init=False, factory=dict)
    _matches: dict[str, Match] = field(init=False, factory=dict)

    def state(self, number: int) -> State:
        """Return a state."""
        found = self._states.get(number)
        if found is None:
            lexer, _, moves = self.state_lines[number].partition(" ")
            actions, _, after = moves.partition(";")
            found = State(self._lexer(int(lexer)), _numbers(actions), _numbers(after))
            self._states[number] = found
        return found

    def rule(self, number: int) -> GrammarRule:
        """Return a rule."""
        found = self._rules.get(number)
        if found is None:
            origin, name, size, *kept = self.rule_lines[number].split()
            places = tuple((int(place.rstrip("*")), place.endswith("*")) for place in kept)
            found = GrammarRule(origin, name, int(size), origin.startswith("_"), places)
            self._rules[number] = found
        return found

    def _lexer(self, number: int) -> tuple[Sought, ...]:
        """Return the terminals to look for, in order; patterns are compiled when first looked for."""
        if number not in self._lexers:
            names, *more = self.lexer_lines[number].split(";")
            words = {
                pattern: dict(pair.split("=") for pair in pairs)
                for pattern, *pairs in map(str.split, more)
            }
            self._lexers[number] = tuple(
                self._one(name, words.get(name, {})) for name in names.split()
            )
        return self._lexers[number]

    def _one(self, name: str, words: dict[str, str]) -> Sought:
        text, is_pattern = self.terminals[name]
        return (name, "", self.match(name), words) if is_pattern else (name, text, None, words)

    def match(self, name: str) -> Match:
        """Return what matches a terminal at an offset of a text."""
        if name not in self._matches:
            text, is_pattern = self.terminals[name]
            self._matches[name] = re.compile(text if is_pattern else re.escape(text)).match
        return self._matches[name]


def _numbers(text: str) -> dict[str, int]:
    """Read `VBAR=5 STRING=-3`."""
    pairs = (pair.split("=") for pair in text.split())
    return {name: int(number) for name, number in pairs}


def fingerprint() -> str:
    """Return what the tables depend on: the grammar, its start rules, and the tables' own shape."""
    text = "\n".join([str(SHAPE), *START_RULES, grammar_text()])
    return f"{zlib.crc32(text.encode()):08x}-{len(text)}"


@lru_cache(maxsize=1)
def tables() -> Tables:
    """Return the tables of the grammar: the kept ones if they are up to date, else new ones."""
    lines = kept_lines()
    if lines is None:
        from fretloom.notation.syntax.parsing.making import table_lines

        lines = table_lines()
    return from_lines(lines)


def kept_lines() -> list[str] | None:
    """Return the lines of the kept tables, None if they are not for this grammar."""
    try:
        first, *lines = packaged_text("fretloom.notation.syntax.parsing", KEPT).split("\n")
    except (OSError, ValueError):
        return None
    try:
        return lines if first == fingerprint() else None
    except FileNotFoundError:
        return lines  # Without the grammar there is nothing else to go by.


def from_lines(lines: list[str]) -> Tables:
    """Make tables from the lines in which they are kept."""
    parts: dict[str, list[str]] = {}
    for line in lines:
        word, _, rest = line.partition(" ")
        parts.setdefault(word, []).append(rest)
    starts = (line.split() for line in parts["start"])
    terminals = (line.split(" ", 2) for line in parts["terminal"])
    return Tables(
        starts={name: (int(first), int(last)) for name, first, last in starts},
        terminals={name: (text, kind == "pattern") for name, kind, text in terminals},
        blank=parts["blank"][0],
        rule_lines=parts["rule"],
        state_lines=parts["state"],
        lexer_lines=parts["lexer"],
    )


def write_tables(path: Path) -> None:
    """Work out the tables and keep them."""
    from fretloom.notation.syntax.parsing.making import table_lines

    path.write_text("\n".join([fingerprint(), *table_lines(), ""]), encoding="utf-8")


if __name__ == "__main__":
    write_tables(Path(__file__).with_name(KEPT))
