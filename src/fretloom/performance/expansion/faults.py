"""Collects what is found wrong while a lesson is laid out, each fault once."""

from __future__ import annotations

import re
from collections.abc import Hashable, Iterable, Mapping
from itertools import islice

from attrs import evolve

from fretloom.diagnostics import AS_WELL, Diagnostic, Edit, Related
from fretloom.limits import LIMITS
from fretloom.rule_facts import Severity
from fretloom.source import Source, Span
from fretloom.text import counted, nearest, only_near

_MOST_RELATED = 8
#: Where faults stand in a lesson that was made and not read.
_NO_TEXT = Source("<lesson>", "")


class Faults:
    """The faults found so far. A fault met again under the same key is counted, not reported again."""

    def __init__(self, source: Source | None) -> None:
        self._nowhere = Span(source or _NO_TEXT, 0, 0)
        self._found: dict[Hashable, Diagnostic] = {}
        self._again: dict[Hashable, dict[Span, tuple[Edit, ...]]] = {}
        self._silent: set[str] = set()

    def branch(self) -> Faults:
        """Return a copy, in which faults can be noted and given up again."""
        copy = Faults(None)
        copy._nowhere = self._nowhere
        copy._found = dict(self._found)
        copy._again = {key: dict(spans) for key, spans in self._again.items()}
        copy._silent = set(self._silent)
        return copy

    def silence(self, rules: Iterable[str]) -> None:
        """Take no more faults of some rules: what they depend on is not known."""
        self._silent.update(rules)

    @property
    def few(self) -> bool:
        """Whether there are so few faults yet that it is worth looking for what was meant."""
        return len(self._found) < LIMITS.hinted

    @property
    def total(self) -> int:
        """How many faults there are, each counted once however often it was met."""
        return len(self._found)

    def nearest(self, name: str, known: Iterable[str]) -> str:
        """Return the known name that a wrong one may stand for, "" when there are very many faults."""
        return nearest(name, known) if self.few else ""

    def only_near(self, name: str, known: Iterable[str]) -> str:
        """Return the one known name that can have been meant, "" if that is not sure."""
        return only_near(name, known) if self.few else ""

    def add(
        self,
        rule: str,
        span: Span | None,
        message: str,
        hint: str = "",
        *,
        key: Hashable = None,
        edits: tuple[Edit, ...] = (),
        used: Span | None = None,
    ) -> None:
        """Note an error; those with the same rule and key (by default place and message) are one.

        Its edits are those of all places, if each has one. A name that is spelt otherwise in several
        places is spelt as it was meant, so it has none.
        """
        if rule in self._silent:
            return
        place = span or self._nowhere
        whole = (rule, key if key is not None else (place.source, place.start, message))
        before = self._found.get(whole)
        if before is None:
            self._found[whole] = Diagnostic(
                rule=rule,
                severity=Severity.ERROR,
                message=message,
                span=place,
                hint=hint,
                edits=edits,
                related=(Related(message="it shows here", span=used),) if used else (),
            )
        elif used is not None:
            if all(used != one.span for one in before.related):
                self._again.setdefault(whole, {}).setdefault(used, ())
        elif span is not None and (span.start, span.end) != (before.span.start, before.span.end):
            self._again.setdefault(whole, {}).setdefault(span, edits)

    def found(self) -> tuple[Diagnostic, ...]:
        """Return the faults in the order in which they were met."""
        return tuple(_told(first, self._again.get(key, {})) for key, first in self._found.items())

    def __bool__(self) -> bool:
        return bool(self._found)


def renamed(span: Span | None, name: str, meant: str) -> tuple[Edit, ...]:
    """Return the edit that writes the name that is meant, where one is; the span begins with the old one."""
    if not meant or span is None or not span.text.startswith(name):
        return ()
    end = span.start + len(name)
    rest = re.escape(meant[len(name) :]) if meant.startswith(name) else ""
    torn = re.compile(rf"[ \t]+(?={rest}(?![\w-]))").match(span.source.text, end) if rest else None
    if torn is not None:
        # The name is there, with a blank in it.
        return (Edit(span=Span(span.source, end, torn.end()), text="", title=f"write {meant}"),)
    if span.source.text[end : end + 1] in (
        ",",
        "(",
        "#",
    ):  # It is only a part of what stands there.
        return ()
    place = Span(span.source, span.start, end)
    return (Edit(span=place, text=meant, title=f"write {meant}"),)


def _same_letters(edit: Edit) -> bool:
    """Whether an edit leaves the letters of a name as they are, but for capitals and a German H."""
    old, new = ([*filter(str.isalpha, text.lower())] for text in (edit.span.text, edit.text))
    return old == new or (old[:1] == ["h"] and ["b", *old[1:]] == new)


def _told(first: Diagnostic, again: Mapping[Span, tuple[Edit, ...]]) -> Diagnostic:
    if not again:
        return first
    edits = [first.edits, *again.values()]
    whole = all(edits) and all(_same_letters(edit) for one in edits for edit in one)
    more = f" (and in {counted(len(again), 'more place')})"
    related = first.related + tuple(
        Related(message=AS_WELL, span=span) for span in islice(again, _MOST_RELATED)
    )
    all_edits = tuple(edit for one in edits for edit in one) if whole else ()
    return evolve(first, message=first.message + more, related=related, edits=all_edits)
