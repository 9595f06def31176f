"""Diagnostics: findings about a lesson, as data. Passes return or yield them and never raise."""

from __future__ import annotations

from collections.abc import Iterable

from attrs import field

from fretloom.rule_facts import Severity, leaves_music_undefined
from fretloom.source import Span
from fretloom.text import shortened
from fretloom.values import frozen


@frozen(kw_only=True)
class Related:
    """Another place that explains a finding, with a few words on how."""

    message: str = field(converter=shortened)
    span: Span


@frozen(kw_only=True)
class Edit:
    """A safe change of the text: put `text` where `span` is."""

    span: Span
    text: str
    title: str = field(default="", converter=shortened)


@frozen(kw_only=True)
class Diagnostic:
    """One finding: the rule's stable name, what is wrong in plain words, where, and what to do.

    `message` names the thing at fault (bar and chord where there are any) and is one sentence
    without a final full stop; `hint` says in the imperative what to write instead.
    `music_undefined` is true when no exporter can say what is played because of it; it follows from
    the rule unless it is given. What is said is `shortened`: a finding quotes a text, it does not
    repeat it.
    """

    rule: str
    severity: Severity
    message: str = field(converter=shortened)
    span: Span
    hint: str = field(default="", converter=shortened)
    related: tuple[Related, ...] = ()
    edits: tuple[Edit, ...] = ()
    music_undefined: bool = field()

    @music_undefined.default
    def _by_rule(self) -> bool:
        return leaves_music_undefined(self.rule)

    @property
    def sort_key(self) -> tuple[str, int, int, int, str]:
        """Return the place in a report: by file, place, severity and rule."""
        span = self.span
        return (span.source.name, span.start, span.end, self.severity.rank, self.rule)


def in_order(diagnostics: Iterable[Diagnostic]) -> list[Diagnostic]:
    """Sort findings by place, and drop those that say the same thing about the same place."""
    seen: set[tuple[str, int, int, str, str]] = set()
    ordered: list[Diagnostic] = []
    for found in sorted(diagnostics, key=lambda one: one.sort_key):
        key = (found.span.source.name, found.span.start, found.span.end, found.rule, found.message)
        if key not in seen:
            seen.add(key)
            ordered.append(found)
    return ordered
