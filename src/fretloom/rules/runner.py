"""Runs every check over a lesson and gathers what was found, in the order of the text and without what is waived."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from importlib import import_module
from typing import TYPE_CHECKING, cast

from fretloom.characters import look_alike
from fretloom.diagnostics import Diagnostic, in_order
from fretloom.memory import no_collection
from fretloom.performance.reading import Reading
from fretloom.rules.consequences import without_consequences
from fretloom.rules.own import findings_of, own_rules
from fretloom.rules.registry import CHECKS
from fretloom.rules.waivers import Waived, apply_waivers
from fretloom.values import evolve

if TYPE_CHECKING:
    from fretloom.rules.house_style import HouseStyle

#: Rules about a name that nobody has given, or that cannot be read.
_ABOUT_NAMES = frozenset(
    ("unreadable-chord-name", "unknown-voicing", "unknown-pattern", "unknown-section")
)

Check = Callable[[Reading], Iterator[Diagnostic]]


def findings(
    reading: Reading, style: HouseStyle | None = None
) -> tuple[list[Diagnostic], list[Waived]]:
    """Return all findings about a lesson, also those of reading it and laying it out, and those that are waived.

    Args:
        reading: the lesson.
        style: what the collection asks for besides, if anything.
    """
    found = [*reading.lesson.faults, *reading.expansion.diagnostics]
    with no_collection():
        for place in CHECKS:
            found.extend(_load(place)(reading))
        for rule in own_rules().values():
            found.extend(findings_of(rule, reading))
        if style is not None:
            from fretloom.rules.families.style.asked import asked_for

            found.extend(asked_for(reading, style))
    counting, waived = apply_waivers(reading.lesson, found, style is not None)
    kept = in_order(map(_plainly, without_consequences(reading, counting)))
    waived.sort(key=lambda one: one.finding.sort_key)
    return kept, waived


def _plainly(found: Diagnostic) -> Diagnostic:
    """Say what is wrong with a name that only looks like the one that is meant."""
    if found.rule not in _ABOUT_NAMES or not (said := look_alike(found.span.text)):
        return found
    return evolve(found, hint=said)


def _load(place: str) -> Check:
    module, _, function = place.partition(":")
    return cast(Check, getattr(import_module(f"fretloom.rules.families.{module}"), function))
