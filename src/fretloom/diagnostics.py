"""Diagnostics: findings about a lesson, as data. Passes return or yield them and never raise."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from attrs import field

from fretloom.errors import FretloomError
from fretloom.rule_facts import Severity, leaves_music_undefined
from fretloom.source import Span
from fretloom.text import shortened
from fretloom.values import evolve, frozen

#: What is said of another place with the very same fault.
AS_WELL = "here as well"


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
    `nth` tells findings apart that are about the same words of the same block, from 1.
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
    nth: int = field(default=1, eq=False, repr=False)
    music_undefined: bool = field()

    @music_undefined.default
    def _by_rule(self) -> bool:
        return leaves_music_undefined(self.rule)

    @property
    def fingerprint(self) -> str:
        """Return 16 hexadecimal digits that stay the same while the text around the finding changes.

        They are made of the rule, the block the finding is in, the words it is about and `nth`: not
        of the message, the line or the name of the file.
        """
        from hashlib import sha256

        about = "\0".join((*_about(self), str(self.nth)))
        return sha256(about.encode("utf-8", "surrogatepass")).hexdigest()[:16]

    @property
    def sort_key(self) -> tuple[str, int, int, int, str]:
        """Return the place in a report: by file, place, severity and rule."""
        span = self.span
        return (span.source.name, span.start, span.end, self.severity.rank, self.rule)


class LessonFaulty(FretloomError):
    """The lesson has faults that make it unclear what is played, or that the caller did not accept.

    `diagnostics` holds the faults, in the order of the text.
    """

    def __init__(self, message: str, diagnostics: tuple[Diagnostic, ...] = ()) -> None:
        super().__init__(message, diagnostics)
        self.message = message
        self.diagnostics = diagnostics

    def __str__(self) -> str:
        return self.message


def in_order(diagnostics: Iterable[Diagnostic]) -> list[Diagnostic]:
    """Sort findings by place, drop repeated ones, and number those about the same words."""
    seen: set[tuple[str, int, int, str, str]] = set()
    alike: Counter[tuple[str, ...]] = Counter()
    ordered: list[Diagnostic] = []
    for found in sorted(diagnostics, key=lambda one: one.sort_key):
        key = (found.span.source.name, found.span.start, found.span.end, found.rule, found.message)
        if key not in seen:
            seen.add(key)
            about = (found.span.source.name, *_about(found))
            alike[about] += 1
            ordered.append(evolve(found, nth=alike[about]) if alike[about] != found.nth else found)
    return ordered


def _about(found: Diagnostic) -> tuple[str, str, str]:
    """Return the rule, the opening words of the block that a finding is in, and its own words."""
    return found.rule, found.span.block_opening, " ".join(found.span.text.split())
