"""Run every check over a lesson and gather what was found, waivers applied, in the order of the text."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from importlib import import_module
from typing import cast

from attrs import field

from fretloom.diagnostics import Diagnostic, Severity, in_order
from fretloom.notation.model.lesson import Lesson
from fretloom.performance.events import Timeline
from fretloom.performance.expansion.expand import Expansion, expand
from fretloom.performance.material.gather import Material, gather
from fretloom.rules.registry import RULES
from fretloom.rules.waivers import apply_waivers
from fretloom.values import frozen


@frozen
class Context:
    """What a rule looks at: the lesson as written, with what it takes from other files, and as played."""

    lesson: Lesson
    expansion: Expansion
    material: Material = field(init=False, repr=False)

    @material.default
    def _gathered(self) -> Material:
        return gather(self.lesson)

    @property
    def timeline(self) -> Timeline:
        """The lesson expanded; bars that could not be laid out are missing from it."""
        return self.expansion.timeline

    @property
    def sound(self) -> bool:
        """Whether the lesson was read and laid out without an error, so that all of it is there."""
        faults = (*self.lesson.faults, *self.expansion.diagnostics)
        return all(found.severity is not Severity.ERROR for found in faults)

    def found(self, rule: str) -> bool:
        """Whether laying out the lesson has found this fault: what it causes is not told as well."""
        return any(one.rule == rule for one in self.expansion.diagnostics)


Check = Callable[[Context], Iterator[Diagnostic]]


def check(lesson: Lesson, expansion: Expansion | None = None) -> list[Diagnostic]:
    """Return all findings about a lesson; an `expansion` already made is used and not made again."""
    context = Context(lesson, expansion or expand(lesson))
    found = [*lesson.faults, *context.expansion.diagnostics]
    for rule in RULES:
        if rule.check:
            found.extend(_load(rule.check)(context))
    return in_order(apply_waivers(lesson, found))


def _load(place: str) -> Check:
    module, _, function = place.partition(":")
    return cast(Check, getattr(import_module(module), function))
