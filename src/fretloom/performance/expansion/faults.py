"""Collects what is found wrong while a lesson is laid out, each fault once."""

from __future__ import annotations

from collections.abc import Iterable

from fretloom.diagnostics import Diagnostic, Related
from fretloom.rule_facts import Severity
from fretloom.source import Source, Span
from fretloom.text import agreeing, counted, listed, nearest

__all__ = ["Faults", "counted", "listed", "nearest"]

_MOST_RELATED = 8
#: Where faults stand in a lesson that was made and not read.
_NO_TEXT = Source("<lesson>", "")


class _Fault:
    __slots__ = ("hint", "message", "more", "related", "rule", "severity", "span")

    def __init__(self, rule: str, span: Span, message: str, hint: str, severity: Severity) -> None:
        self.rule = rule
        self.span = span
        self.message = message
        self.hint = hint
        self.severity = severity
        self.related: list[Related] = []
        self.more: set[object] = set()


class Faults:
    """The faults found so far. A fault met again under the same key is counted, not told again."""

    def __init__(self, source: Source | None) -> None:
        self._nowhere = Span(source or _NO_TEXT, 0, 0)
        self._found: dict[object, _Fault] = {}
        self._silent: set[str] = set()

    def silence(self, rules: Iterable[str]) -> None:
        """Take in no more faults of some rules: what they judge by is not known."""
        self._silent.update(rules)

    def add(
        self,
        rule: str,
        span: Span | None,
        message: str,
        hint: str = "",
        *,
        key: object = None,
        severity: Severity = Severity.ERROR,
        related: Iterable[Related] = (),
    ) -> None:
        """Note a fault; those with the same rule and key (by default place and message) are one."""
        if rule in self._silent:
            return
        place = span or self._nowhere
        whole = (rule, key if key is not None else (id(place.source), place.start, message))
        before = self._found.get(whole)
        if before is None:
            self._found[whole] = fault = _Fault(rule, place, message, hint, severity)
            fault.related.extend(related)
        elif span is not None and (span.start, span.end) != (before.span.start, before.span.end):
            self._again(before, span)

    def _again(self, fault: _Fault, span: Span) -> None:
        place = (id(span.source), span.start, span.end)
        if place in fault.more:
            return
        fault.more.add(place)
        if len(fault.more) <= _MOST_RELATED:
            fault.related.append(Related(message="here as well", span=span))

    def found(self) -> tuple[Diagnostic, ...]:
        """Return the faults as diagnostics, in the order in which they were met."""
        return tuple(_told(fault) for fault in self._found.values())

    def __bool__(self) -> bool:
        return bool(self._found)


def _told(fault: _Fault) -> Diagnostic:
    count = len(fault.more)
    more = f" (and in {count} more {agreeing(count, 'place', 'places')})" if count else ""
    return Diagnostic(
        rule=fault.rule,
        severity=fault.severity,
        message=fault.message + more,
        span=fault.span,
        hint=fault.hint,
        related=tuple(fault.related),
    )
