"""Waivers: comments such as `# allow stretch: played with the capo at 5` that accept a finding.

A waiver beside a line, or alone on the line above it, covers the findings that start on that line;
above the first line of a block it covers the whole block. Several rules are separated by commas.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping

from fretloom.diagnostics import Diagnostic, Edit
from fretloom.limits import LIMITS
from fretloom.notation.model.lesson import Block, Edition, Lesson, Use
from fretloom.notation.model.margin import ALLOWING, Margin, Unread
from fretloom.notation.model.walking.walk import Line, lines
from fretloom.rule_facts import Severity
from fretloom.rules.house_style import FAMILY
from fretloom.rules.registry import all_rules, find_rule
from fretloom.source import Source, Span
from fretloom.text import CLOSELY_ALIKE, nearest, only_near
from fretloom.values import frozen

_WAIVER = re.compile(rf"{ALLOWING}\s*(?::(.*))?", re.I)
_BEFORE_NAME = re.compile(r"[ \t]*#+\s*allow\s+$", re.I)


@frozen
class Waiver:
    """One rule allowed by a comment, on the lines `first` to `last` (1-based) of its file."""

    rule: str
    reason: str
    span: Span
    first: int
    last: int
    colon: bool = True


class _Active:
    """The waivers that hold, found by the line of a finding without trying each of them."""

    def __init__(self, waivers: Iterable[Waiver]) -> None:
        self.by_line: dict[tuple[str, Source, int], list[Waiver]] = {}
        self.wide: dict[tuple[str, Source], dict[tuple[int, int], list[Waiver]]] = {}
        for one in waivers:
            source = one.span.source
            if one.first == one.last:
                self.by_line.setdefault((one.rule, source, one.first), []).append(one)
            else:
                spans = self.wide.setdefault((one.rule, source), {})
                spans.setdefault((one.first, one.last), []).append(one)

    def covering(self, found: Diagnostic) -> list[Waiver]:
        """Return the waivers of a finding's rule that hold where it starts."""
        if not self.by_line and not self.wide:
            return []
        source, line = found.span.source, found.span.line
        wide = self.wide.get((found.rule, source), {})
        covering = list(self.by_line.get((found.rule, source, line), ()))
        for (first, last), waivers in wide.items():
            if first <= line <= last:
                covering += waivers
        return covering


@frozen
class Waived:
    """A finding that a comment allows, the reason that it gives, and where the comment names the rule."""

    finding: Diagnostic
    reason: str
    span: Span


def apply_waivers(
    lesson: Lesson, found: Iterable[Diagnostic], styled: bool = False
) -> tuple[list[Diagnostic], list[Waived]]:
    """Return the findings that count, with those about the waivers, and those that a waiver with a reason covers.

    A waiver of what only a house style asks for is not said to be needless unless one does (`styled`).
    """
    own = tuple(_waivers(lesson))
    others = (waiver for linked in _linked(lesson) for waiver in _waivers(linked))
    active = _Active(waiver for waiver in (*own, *others) if _holds(waiver))
    kept: list[Diagnostic] = []
    waived: list[Waived] = []
    needed: set[Waiver] = set()
    for finding in found:
        covering = active.covering(finding)
        needed.update(covering)
        if covering:
            waived.append(Waived(finding, covering[0].reason, covering[0].span))
        else:
            kept.append(finding)
    elsewhere = {one.rule: one for one in reversed(kept)}
    about = (
        fault
        for at, waiver in enumerate(own)
        for fault in _faults(
            waiver,
            elsewhere,
            waiver in needed or not (styled or _always(waiver)),
            at < LIMITS.hinted,
        )
    )
    return [*kept, *about], waived


def _holds(waiver: Waiver) -> bool:
    rule = find_rule(waiver.rule)
    return rule is not None and rule.waivable and bool(waiver.reason)


def _always(waiver: Waiver) -> bool:
    """Whether its rule is followed everywhere."""
    rule = find_rule(waiver.rule)
    return rule is None or rule.family != FAMILY


def _faults(
    waiver: Waiver, elsewhere: Mapping[str, Diagnostic], needed: bool, hinted: bool
) -> Iterator[Diagnostic]:
    name, rule = waiver.rule, find_rule(waiver.rule)
    if rule is None:
        names = [one.name for one in all_rules()] if hinted else []
        near = nearest(name, names, CLOSELY_ALIKE)
        if near or waiver.colon:
            hint = f"write {near}" if near else "`fretloom explain` lists the names of all rules"
            sure = only_near(name, names)
            edits: tuple[Edit, ...] = ()
            if sure:
                edits = (Edit(span=waiver.span, text=sure, title=f"write {sure}"),)
            yield _warn("unknown-rule", waiver, f"there is no rule called {name}", hint, edits)
    elif not rule.waivable:
        message = f"{name} cannot be waived: it makes the lesson wrong, not only unusual"
        hint = "mend the fault and remove the comment"
        yield _warn("cannot-be-waived", waiver, message, hint, _without_comment(waiver.span))
    elif not waiver.reason:
        message = f"the waiver for {name} gives no reason, so it does not count"
        hint = f"say why after a colon: # allow {name}: the reason"
        yield _warn("waiver-without-reason", waiver, message, hint)
    elif not needed:
        message = f"nothing here is reported as {name}, so there is nothing to allow"
        hint = "remove the comment, or move it to the line that it is about"
        if name in elsewhere:
            hint = f"move it to line {elsewhere[name].span.line}, or remove it"
        removed = () if name in elsewhere else _without_comment(waiver.span)
        yield _warn("waiver-not-needed", waiver, message, hint, removed)


def _warn(
    rule: str, waiver: Waiver, message: str, hint: str, edits: tuple[Edit, ...] = ()
) -> Diagnostic:
    return Diagnostic(
        rule=rule,
        severity=Severity.WARNING,
        message=message,
        span=waiver.span,
        hint=hint,
        edits=edits,
    )


def _without_comment(name: Span) -> tuple[Edit, ...]:
    """Return the edit that removes a waiver's comment; none if it names other rules as well."""
    source, line = name.source, name.source.line_text(name.line)
    start = name.column - 1
    before, after = _BEFORE_NAME.search(line[:start]), line[start + len(name.text) :].lstrip()
    if before is None or after.startswith(","):
        return ()
    begin = name.start - start
    end, first = begin + len(line), begin + before.start()
    if first == begin:  # The comment has the line to itself.
        end = (*source.line_starts(), len(source.text))[name.line]
    return (Edit(span=Span(source, first, end), text="", title="remove the comment"),)


def _linked(lesson: Lesson) -> list[Lesson]:
    """Return the lessons that a lesson uses or is based on, and theirs, each once."""
    found: dict[Source | None, Lesson] = {}
    waiting = [*lesson.linked.values()]
    while waiting:
        one = waiting.pop()
        if one is not lesson and one.source not in found:
            found[one.source] = one
            waiting.extend(one.linked.values())
    return list(found.values())


def _waivers(lesson: Lesson) -> Iterator[Waiver]:
    source = lesson.source
    if source is None or "allow" not in source.text.lower():
        return
    last = len(source.line_starts())
    blocks = [(one, span) for one in lesson.blocks if (span := _span_of(one)) is not None]
    ends = [span.line - 1 for _, span in blocks[1:]]
    for (block, span), end in zip(blocks, [*ends, last], strict=False):
        yield from _at(source, block.margin, span, end)
        for line, _ in lines(block):
            if (at := _span_of(line)) is not None:
                yield from _at(source, line.margin, at, _last_line(at))
        if not isinstance(block, Edition | Use | Unread):
            yield from _in_tail(source, block.tail, span.line, end)
    yield from _in_tail(source, lesson.tail, 1, last)


def _span_of(line: Block | Line) -> Span | None:
    """Return where a line stands, also if it could not be read."""
    return None if isinstance(line, Unread) else line.span


def _last_line(span: Span) -> int:
    return span.source.position(max(span.start, span.end - 1))[0]


def _at(source: Source, margin: Margin, span: Span, end: int) -> Iterator[Waiver]:
    """Yield the waivers around one line; those above it reach to the line `end`.

    A statement that goes on for several lines has comments within it; they count as above it.
    """
    last = _last_line(span)
    if margin.beside and source.line_text(last).rstrip().endswith(margin.beside):
        yield from _read(source, margin.beside, last, span.line, last)
    line = max(last - 1, span.line - 1)
    for comment in reversed(margin.above):
        while line > 0 and not _stands(comment, source.line_text(line), line >= span.line):
            line -= 1
        if line > 0:
            yield from _read(source, comment, line, span.line, max(end, last))
        line -= 1


def _stands(comment: str, text: str, beside: bool) -> bool:
    """Whether a comment stands on a line, alone or (where it may be) beside something."""
    return text.rstrip().endswith(comment) if beside else text.strip() == comment


def _in_tail(source: Source, tail: tuple[str, ...], start: int, end: int) -> Iterator[Waiver]:
    comments = frozenset(tail)
    for line in range(start, end + 1) if tail else ():
        text = source.line_text(line).strip()
        if text in comments:
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
