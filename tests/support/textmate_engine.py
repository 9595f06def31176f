"""Colours a text by a grammar of TextMate's form: so much of it as ours uses, to be compared with other ways.

From the manual (macromates.com/manual/en/language_grammars): rules with `match`, or with `begin` and `end`, captures
that may have patterns, and includes from the repository; what begins first counts, of two the one that stands first.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from typing import Any

Rule = dict[str, Any]
Piece = tuple[int, int, str]


class Engine:
    """One grammar; `steps` counts the patterns that were tried."""

    def __init__(self, grammar: Rule) -> None:
        self.grammar = grammar
        self.steps = 0

    def coloured(self, text: str) -> list[Piece]:
        """Return the pieces that have a colour: offsets, and the name of the innermost rule."""
        found: list[Piece] = []
        stack: list[Rule] = [self.grammar]
        start = 0
        for line in text.split("\n"):
            found += [(start + a, start + b, name) for a, b, name in self._line(line, stack)]
            start += len(line) + 1
        return _joined(found)

    def _line(self, line: str, stack: list[Rule], at: int = 0) -> Iterator[Piece]:
        emptied: set[tuple[int, int]] = set()
        while True:
            rule = stack[-1]
            match, inner = self._first(line, at, rule)
            end = self._ends(line, at, rule)
            if end is not None and (match is None or end.start() <= match.start()):
                yield at, end.start(), rule.get("contentName", "")
                stack.pop()
                at = end.end()
                continue
            if match is None:
                yield at, len(line), rule.get("contentName", "")
                return
            assert inner is not None
            yield at, match.start(), rule.get("contentName", "")
            captures = inner.get("beginCaptures" if "begin" in inner else "captures", {})
            name = inner.get("name", "") or rule.get("contentName", "")
            yield from self._captured(match, name, captures)
            if "begin" in inner:
                stack.append(inner)
            if match.end() == at:
                place = (at, len(stack))
                assert place not in emptied, "it would go on for ever"
                emptied.add(place)
            at = match.end()

    def _ends(self, line: str, at: int, rule: Rule) -> re.Match[str] | None:
        self.steps += 1
        return _compiled(rule["end"]).search(line, at) if "end" in rule else None

    def _first(self, line: str, at: int, rule: Rule) -> tuple[re.Match[str] | None, Rule | None]:
        best: re.Match[str] | None = None
        chosen = None
        for one in self._patterns(rule):
            self.steps += 1
            found = _compiled(one["begin"] if "begin" in one else one["match"]).search(line, at)
            if found is not None and (best is None or found.start() < best.start()):
                best, chosen = found, one
        return best, chosen

    def _patterns(self, rule: Rule) -> Iterator[Rule]:
        for one in rule.get("patterns", ()):
            if "include" in one:
                included = self.grammar["repository"][one["include"].removeprefix("#")]
                if "match" in included or "begin" in included:
                    yield included
                else:
                    yield from self._patterns(included)
            else:
                yield one

    def _captured(
        self, match: re.Match[str], name: str, captures: dict[str, Rule]
    ) -> Iterator[Piece]:
        yield match.start(), match.end(), name
        for number, rule in captures.items():
            start, end = match.span(int(number))
            if start < 0:
                continue
            yield start, end, rule.get("name", "")
            if "patterns" in rule:
                yield from self._line(match.string[:end], [rule], start)


@cache
def _compiled(pattern: str) -> re.Pattern[str]:
    return re.compile(pattern)


def _joined(pieces: list[Piece]) -> list[Piece]:
    """Return pieces that follow one another, where the later and inner ones cover the earlier."""
    length = max((end for _, end, _ in pieces), default=0)
    names = [""] * length
    for start, end, name in pieces:
        if name:
            names[start:end] = [name] * (end - start)
    found: list[Piece] = []
    for at, name in enumerate(names):
        if found and found[-1][2] == name and found[-1][1] == at:
            found[-1] = (found[-1][0], at + 1, name)
        elif name:
            found.append((at, at + 1, name))
    return found
