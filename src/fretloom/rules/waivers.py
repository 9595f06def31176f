"""Waivers: comments such as `# allow stretch: played with the capo at 5` that accept a finding.

Beside a line, a waiver covers the findings that start on it; alone on the line above it, the same;
above the opening line of a block, the whole block. Several rules are separated by commas.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Any

from attrs import field

from fretloom.diagnostics import Diagnostic
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.model.margin import Margin
from fretloom.rule_facts import RULES, Severity, find_rule
from fretloom.source import Source, Span
from fretloom.text import CLOSELY_ALIKE, nearest
from fretloom.values import frozen

_WAIVER = re.compile(
    r"#+\s*allow\s+([a-z][a-z0-9-]*(?:\s*,\s*[a-z][a-z0-9-]*)*)\s*(?::(.*))?", re.I
)


@frozen
class Waiver:
    """One rule allowed by a comment, on the lines `first` to `last` (1-based) of its file."""

    rule: str
    reason: str
    span: Span
    first: int
    last: int
    colon: bool = True
    uses: list[Diagnostic] = field(factory=list)

    def covers(self, found: Diagnostic) -> bool:
        """Whether a finding starts where this waiver holds and is of its rule."""
        return (
            found.rule == self.rule
            and found.span.source is self.span.source
            and self.first <= found.span.line <= self.last
        )


def apply_waivers(lesson: Lesson, found: Iterable[Diagnostic]) -> list[Diagnostic]:
    """Drop the findings that a waiver with a reason covers; add findings about the waivers."""
    own = list(_waivers(lesson))
    active = [one for one in (*own, *_of_linked(lesson, set())) if _holds(one)]
    kept: list[Diagnostic] = []
    for finding in found:
        covering = [one for one in active if one.covers(finding)]
        for waiver in covering:
            waiver.uses.append(finding)
        if not covering:
            kept.append(finding)
    return kept + [fault for waiver in own for fault in _faults(waiver, kept)]


def _holds(waiver: Waiver) -> bool:
    rule = find_rule(waiver.rule)
    return rule is not None and rule.waivable and bool(waiver.reason)


def _faults(waiver: Waiver, kept: list[Diagnostic]) -> Iterator[Diagnostic]:
    name, rule = waiver.rule, find_rule(waiver.rule)
    if rule is None:
        near = nearest(name, [one.name for one in RULES], CLOSELY_ALIKE)
        if near or waiver.colon:
            hint = f"write {near}" if near else "`fretloom explain` lists the names of all rules"
            yield _warn("unknown-rule", waiver, f"there is no rule called {name}", hint)
    elif not rule.waivable:
        message = f"{name} cannot be waived: it makes the lesson wrong, not only unusual"
        yield _warn("cannot-be-waived", waiver, message, "mend the fault and take the comment out")
    elif not waiver.reason:
        message = f"the waiver for {name} gives no reason, so it does not count"
        hint = f"say why after a colon: # allow {name}: the reason"
        yield _warn("waiver-without-reason", waiver, message, hint)
    elif not waiver.uses:
        message = f"nothing here is reported as {name}, so there is nothing to allow"
        hint = "take the comment out, or move it to the line that it is about"
        elsewhere = [one for one in kept if one.rule == name]
        if elsewhere:
            hint = f"move it to line {elsewhere[0].span.line}, or take it out"
        yield _warn("waiver-not-needed", waiver, message, hint)


def _warn(rule: str, waiver: Waiver, message: str, hint: str) -> Diagnostic:
    return Diagnostic(
        rule=rule, severity=Severity.WARNING, message=message, span=waiver.span, hint=hint
    )


def _of_linked(lesson: Lesson, seen: set[int]) -> Iterator[Waiver]:
    for linked in lesson.linked.values():
        if id(linked) not in seen:
            seen.add(id(linked))
            yield from _waivers(linked)
            yield from _of_linked(linked, seen)


def _waivers(lesson: Lesson) -> Iterator[Waiver]:
    source = lesson.source
    if source is None or "allow" not in source.text.lower():
        return
    blocks: list[Any] = [block for block in lesson.blocks if getattr(block, "span", None)]
    ends = [block.span.line - 1 for block in blocks[1:]] + [len(source.line_starts())]
    for block, end in zip(blocks, ends, strict=True):
        yield from _at(source, block.margin, block.span, end)
        for line in _lines(block):
            yield from _at(source, line.margin, line.span, _last_line(line.span))
        yield from _in_tail(source, getattr(block, "tail", ()), block.span.line)
    yield from _in_tail(source, lesson.tail, 1)


def _lines(block: object) -> Iterator[Any]:
    """Yield all lines of a block that stand in a text, those below other lines too."""
    for name in ("settings", "lines", "entries", "buts"):
        for line in getattr(block, name, ()):
            if getattr(line, "span", None) is not None:
                yield line
            yield from _lines(line)


def _last_line(span: Span) -> int:
    return span.source.position(max(span.start, span.end - 1))[0]


def _at(source: Source, margin: Margin, span: Span, end: int) -> Iterator[Waiver]:
    """Yield the waivers around one line; those above it reach to the line `end`."""
    if margin.beside:
        for line in range(span.line, _last_line(span) + 1):
            if source.line_text(line).rstrip().endswith(margin.beside):
                yield from _read(source, margin.beside, line, span.line, _last_line(span))
                break
    line = span.line - 1
    for comment in reversed(margin.above):
        while line > 0 and source.line_text(line).strip() != comment:
            line -= 1
        if line > 0:
            yield from _read(source, comment, line, span.line, max(end, _last_line(span)))
        line -= 1


def _in_tail(source: Source, tail: tuple[str, ...], start: int) -> Iterator[Waiver]:
    for line in range(start, len(source.line_starts()) + 1) if tail else ():
        text = source.line_text(line).strip()
        if text in tail:
            yield from _read(source, text, line, line, line)


def _read(source: Source, comment: str, line: int, first: int, last: int) -> Iterator[Waiver]:
    match = _WAIVER.fullmatch(comment)
    if match is None:
        return
    start = source.line_starts()[line - 1] + source.line_text(line).rfind(comment)
    for name in re.finditer(r"[a-z][a-z0-9-]*", match[1], re.I):
        place = start + match.start(1) + name.start()
        span = Span(source, place, place + len(name[0]))
        reason = (match[2] or "").strip()
        yield Waiver(name[0].lower(), reason, span, first, last, match[2] is not None)
