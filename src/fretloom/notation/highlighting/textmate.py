"""Writes the grammar by which editors colour lessons, in the form that TextMate brought up, from the parser's tables.

A block goes from its opening word to the next one. Each line in it is divided into the stretches of `following.py`;
a stretch is a pattern of its own, so that a word is only taken for what it can be there.
`python -m fretloom.notation.highlighting.textmate FILE` writes it.
"""

from __future__ import annotations

import json
import re
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from fretloom.notation.highlighting.following import (
    LineStretch,
    LineStretches,
    after_bar_line,
    begins,
    stretches_of,
)
from fretloom.notation.highlighting.kinds import (
    DEFINING,
    ESCAPED,
    LINE_RULES,
    OPENING_RULES,
    TECHNIQUES,
    TextKind,
    kind_of,
)
from fretloom.notation.model.margin import ALLOWING
from fretloom.notation.model.words import OPENERS
from fretloom.notation.syntax.parsing.tables import tables

LANGUAGE = "fretloom"
#: What each kind is called in editors (macromates.com/manual/en/language_grammars, "Naming Conventions").
SCOPES = {
    TextKind.OPENER: "keyword.control",
    TextKind.WORD: "keyword.other",
    TextKind.DEFINED: "entity.name.function",
    TextKind.NAME: "variable.other",
    TextKind.TEXT: "string.quoted.double",
    TextKind.ESCAPE: "constant.character.escape",
    TextKind.NUMBER: "constant.numeric",
    TextKind.VALUE: "constant.other",
    TextKind.FRETS: "constant.numeric.frets",
    TextKind.FRETTING: "constant.language",
    TextKind.PLUCK: "support.function",
    TextKind.TECHNIQUE: "storage.modifier",
    TextKind.MARK: "keyword.operator",
    TextKind.SIGN: "punctuation.separator",
    TextKind.PROSE: "meta.prose",
    TextKind.COMMENT: "comment.line.number-sign",
    TextKind.ALLOWING: "keyword.other.allow",
    TextKind.FAULT: "invalid.illegal",
}
_BLANKS = "[ \\t]+"
#: What cannot follow a word of the notation, or it would be a part of a name.
_WHOLE = r'(?![^\s|:{}"%,(])'
_LINE_END = "$"
_COMMENT_SIGN = r"#+\s*"

_Rule = dict[str, Any]


def grammar() -> _Rule:
    """Return the whole grammar as data for JSON."""
    repository: dict[str, _Rule] = {
        "comment": {"patterns": _comments()},
        **{word: _block(word) for word in OPENERS},
    }
    for rule in dict.fromkeys((*OPENING_RULES.values(), *LINE_RULES.values())):
        found = stretches_of(rule)
        for terminal, stretch in found.after.items():
            repository[_named(rule, terminal)] = _stretch(terminal, stretch)
    for terminal in sorted(tables().terminals):
        if f'"#{terminal.lower()}"' in json.dumps(repository):
            repository[terminal.lower()] = _piece(terminal)
    return {
        "name": "fretloom lesson",
        "scopeName": f"source.{LANGUAGE}",
        "fileTypes": ["lesson"],
        "patterns": [_include("comment"), *map(_include, OPENERS)],
        "repository": repository,
    }


def grammar_json() -> str:
    """Return the file that editors read."""
    return json.dumps(grammar(), indent=1, ensure_ascii=False) + "\n"


def _scope(kind: TextKind) -> str:
    return f"{SCOPES[kind]}.{LANGUAGE}"


def _named(rule: str, terminal: str) -> str:
    text, is_pattern = tables().terminals[terminal]
    word = text if not is_pattern and text.isalpha() else terminal.lower()
    return f"{rule.removesuffix('_line')}-{word}"


def _include(name: str) -> _Rule:
    return {"include": f"#{name}"}


def _regex(terminal: str) -> str:
    """Return what matches a terminal."""
    text, is_pattern = tables().terminals[terminal]
    if is_pattern:
        return text
    return re.escape(text) + (_WHOLE if text.isalpha() else "")


def _coloured(kind: TextKind) -> _Rule:
    """Return what colours a terminal that is matched as a whole."""
    found: _Rule = {"name": _scope(kind)}
    if kind is TextKind.TEXT:
        found["patterns"] = [{"match": ESCAPED, "name": _scope(TextKind.ESCAPE)}]
    if kind is TextKind.PLUCK:
        technique = {"match": f"{TECHNIQUES}.*", "name": _scope(TextKind.TECHNIQUE)}
        found["patterns"] = [technique]
    return found


def _piece(terminal: str) -> _Rule:
    """Return the pattern of a terminal that stands alone."""
    return {"match": _regex(terminal), "captures": {"0": _coloured(kind_of(terminal))}}


def _open_text() -> _Rule:
    """Return the pattern of a text while it is typed: up to the end of the line."""
    return {"match": r'"(?:[^"\\]|\\.)*$', "name": _scope(TextKind.TEXT)}


def _sequence(terminals: Iterable[str], naming: bool = False) -> tuple[str, dict[str, _Rule]]:
    """Return what matches terminals one after the other, or the first of them, and what colours each."""
    regex, closing = "", ""
    colours: dict[str, _Rule] = {}
    for number, terminal in enumerate(terminals, 1):
        kind = kind_of(terminal)
        if naming and kind is TextKind.NAME:
            kind, naming = TextKind.DEFINED, False
        if number > 1:
            regex += "(?:[ \\t]*"
            closing += ")?"
        regex += f"({_regex(terminal)})"
        colours[str(number)] = _coloured(kind)
    return regex + closing, colours


def _bag(stretch: LineStretch) -> list[_Rule]:
    """Return the patterns of what can stand in a stretch; what is never right is left without colour."""
    fitting = [one for one in stretch.bag if kind_of(one) is not TextKind.FAULT]
    pieces = [_include(one.lower()) for one in fitting]
    return [*pieces, _open_text()] if "STRING" in fitting else pieces


def _stretch(terminal: str, stretch: LineStretch) -> _Rule:
    """Return the pattern of a stretch inside a line: from its terminal up to the next one that begins another."""
    begin, colours = _sequence((terminal, *stretch.forced))
    ends = "|".join(_regex(one) for one in stretch.ends)
    return {
        "begin": begin,
        "beginCaptures": colours,
        "end": f"(?={ends})|{_LINE_END}" if ends else _LINE_END,
        "patterns": [_include("comment"), *_bag(stretch)],
    }


def _reachable(found: LineStretches, stretch: LineStretch) -> list[str]:
    """Return the terminals that begin a stretch somewhere behind this one."""
    reached: dict[str, None] = {}
    waiting = list(stretch.ends)
    while waiting:
        one = waiting.pop(0)
        if one not in reached:
            reached[one] = None
            waiting += found.after[one].ends
    return list(reached)


def _rest(rule: str, found: LineStretches, stretch: LineStretch) -> list[_Rule]:
    """Return the patterns of what stands in a line behind its beginning."""
    stretches = [_include(_named(rule, one)) for one in _reachable(found, stretch)]
    return [_include("comment"), *stretches, *_bag(stretch)]


def _line(begin: str, colours: dict[str, _Rule], patterns: list[_Rule]) -> _Rule:
    return {
        "begin": f"^{_BLANKS}{begin}",
        "beginCaptures": colours,
        "end": _LINE_END,
        "patterns": patterns,
    }


def _lines(rule: str) -> list[_Rule]:
    """Return the patterns of the lines that a rule reads, by what they begin with."""
    found = stretches_of(rule)
    first = found.first
    if first.forced:
        begin, colours = _sequence(first.forced, naming=rule in DEFINING)
        lines = [_line(begin, colours, _rest(rule, found, first))]
        if rule == "pattern_line":
            lines.append(_line(r"(?=\|)", {}, _rest(rule, found, after_bar_line(rule))))
        return lines
    lines = []
    for terminal in filter(begins, first.ends):
        after = found.after[terminal]
        begin, colours = _sequence((terminal, *after.forced))
        lines.append(_line(begin, colours, _rest(rule, found, after)))
    if first.bag:
        lines.append(_line(r"(?=[^\s#])", {}, _rest(rule, found, first)))
    return lines


def _block(word: str) -> _Rule:
    """Return the pattern of a block: its opening line, and the lines in it."""
    begin, rest = f"({word})", []
    colours: dict[str, _Rule] = {}
    if word in OPENING_RULES:
        rule = OPENING_RULES[word]
        found = stretches_of(rule)
        begin, colours = _sequence(found.first.forced, naming=rule in DEFINING)
        rest = _rest(rule, found, found.first)[1:]
    colours = {**colours, "1": {"name": _scope(TextKind.OPENER)}}
    lines = _lines(LINE_RULES[word]) if word in LINE_RULES else []
    if word == "step":
        lines.append(_prose())
    openers = "|".join(OPENERS)
    return {
        "begin": f"^(?={word}:?(?!\\S)){begin}",
        "beginCaptures": colours,
        "end": f"^(?=(?:{openers}):?(?!\\S))",
        "patterns": [_include("comment"), *_inner_use(), *lines, *rest],
    }


def _inner_use() -> list[_Rule]:
    """Return the pattern of a `use` inside another block: many write it into the heading."""
    begin, colours = _sequence(stretches_of("use_line").first.forced)
    return [_line(f'(?=use{_BLANKS}"){begin}', colours, [_include("comment")])]


def _prose() -> _Rule:
    """Return the pattern of a line of prose; a `#` in quotes begins no comment."""
    quoted = {"match": tables().terminals["STRING"][0]}
    return {
        **_line(r"(?=[^\s#])", {}, [_include("comment"), quoted]),
        "contentName": _scope(TextKind.PROSE),
    }


def _comments() -> list[_Rule]:
    """Return the patterns of comments, first in their line or behind something, and of what they allow."""
    comment, allowing = {"name": _scope(TextKind.COMMENT)}, {"name": _scope(TextKind.ALLOWING)}
    rules = ALLOWING.removeprefix(_COMMENT_SIGN)
    allow = {"1": comment, "2": allowing, "4": comment}
    return [
        {"match": rf"(?i)^[ \t]*({_COMMENT_SIGN})({rules})(.*)$", "captures": allow},
        {"match": rf"(?i)(?<=[ \t])(#[ \t]+)({rules})(.*)$", "captures": allow},
        {"match": r"^[ \t]*(#.*)$", "captures": {"1": comment}},
        {"match": r"(?<=[ \t])(#(?:[ \t].*)?)$", "captures": {"1": comment}},
    ]


if __name__ == "__main__":
    Path(sys.argv[1]).write_text(grammar_json(), encoding="utf-8")
