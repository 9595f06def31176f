"""Chooses findings: by what is settled for their lesson, by the rules that were asked for, and each only once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from fretloom.api import Diagnostic, known_rules
from fretloom.collection.configuration.values import Configuration
from fretloom.collection.results import Checked
from fretloom.errors import FretloomError
from fretloom.report.findings.places import plain_name
from fretloom.rule_facts import FAMILIES
from fretloom.text import nearest, shown_name
from fretloom.values import evolve


def rules_named(words: Iterable[str], option: str) -> frozenset[str]:
    """Return the names of rules that are named, one by one or by their family.

    Args:
        words: names, several with commas between them.
        option: that they were given to, for the message.

    Raises:
        FretloomError: there is no such rule or family.
    """
    rules = known_rules()
    found: set[str] = set()
    for name in (part.strip() for word in words for part in word.split(",")):
        named = {one.name for one in rules if name in (one.name, one.family)}
        if not named and name not in FAMILIES:
            near = nearest(name, [*(one.name for one in rules), *FAMILIES])
            hint = f"did you mean {near}?" if near else "`fretloom explain` lists them all"
            said = shown_name(name) or '""'
            raise FretloomError(f"{option}: there is no rule and no family of rules {said}; {hint}")
        found |= named
    return frozenset(found)


class Selection:
    """Which findings are reported.

    A finding is reported once: a fault in a file that several lessons use is found again with each. That
    each of them names a file with faults is not reported where that file is looked at as well; `following`
    has how many they are, by the name of the file.
    """

    def __init__(
        self,
        select: frozenset[str] | None = None,
        ignore: frozenset[str] = frozenset(),
        files: Iterable[str] = (),
    ) -> None:
        """Choose the rules: the only ones (None for all of them), and those that are left out.

        `files` are those that are looked at.
        """
        self.select, self.ignore = select, ignore
        self._files = {plain_name(one) for one in files}
        self.following: dict[str, int] = {}
        self._known: set[tuple[object, ...]] = set()

    def of(self, checked: Checked, configuration: Configuration) -> Checked:
        """Return a result with what is to be reported of it."""
        findings = [
            one
            for one in self.wanted(checked.findings, configuration)
            if self._is_new(one) and not self._follows(one)
        ]
        waived = [
            evolve(one, finding=after)
            for one in checked.waived
            for after in self.wanted((one.finding,), configuration)
            if self._is_new(after)
        ]
        return evolve(checked, findings=tuple(findings), waived=tuple(waived))

    def wanted(
        self, findings: Iterable[Diagnostic], configuration: Configuration
    ) -> Iterator[Diagnostic]:
        """Yield the findings that are settled and asked for, whether they were reported before or not."""
        for one in configuration.applied(findings):
            chosen = self.select is None or one.rule in self.select
            if chosen and one.rule not in self.ignore:
                yield one

    def _follows(self, found: Diagnostic) -> bool:
        """Whether it only says that another file has faults, which are reported there; it is counted."""
        if found.rule != "linked-file-faulty" or not found.related:
            return False
        name = plain_name(found.related[0].span.source.name)
        if name not in self._files:
            return False
        self.following[name] = self.following.get(name, 0) + 1
        return True

    def _is_new(self, found: Diagnostic) -> bool:
        span = found.span
        key = (plain_name(span.source.name), span.start, span.end, found.rule, found.message)
        if key in self._known:
            return False
        self._known.add(key)
        return True
