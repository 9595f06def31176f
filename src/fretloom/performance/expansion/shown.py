"""Checks that what the steps show is there."""

from __future__ import annotations

from fretloom.notation.model.step import Show
from fretloom.performance.expansion.form.plan import Plan
from fretloom.performance.expansion.resolve import Resolver
from fretloom.performance.expansion.staging import note_unknown_section
from fretloom.performance.material.gather import Material
from fretloom.text import counted


def check_steps(material: Material, resolver: Resolver, plans: dict[str, Plan | None]) -> None:
    """Note voicings, patterns, sections and bars that a step shows and the lesson does not have."""
    for step in material.steps:
        for line in step.lines:
            if isinstance(line, Show):
                _check(line, f"the step {step.title}".rstrip(), resolver, plans)


def _check(show: Show, where: str, resolver: Resolver, plans: dict[str, Plan | None]) -> None:
    span = show.name_span or show.span
    if show.kind in ("voicing", "change"):
        resolver.voicing(show.name, span, where)
    elif show.kind == "pattern":
        resolver.pattern(show.name, span, where)
    elif show.kind in ("section", "bars"):
        if show.name not in plans:
            note_unknown_section(show.name, span, where, resolver.material, resolver.faults)
        elif show.kind == "bars":
            _check_bars(show, where, resolver, plans[show.name])
    if show.over:
        resolver.voicing(show.over, show.over_span or show.span, where)


def _check_bars(show: Show, where: str, resolver: Resolver, plan: Plan | None) -> None:
    if plan is None or not plan.complete or show.first is None:
        return
    total = plan.counted
    if not total:
        return
    last = show.last if show.last is not None else show.first
    if 1 <= show.first <= last <= total:
        return
    beyond = show.first if not 1 <= show.first <= total else last
    message = f"{where}: there is no bar {beyond} in {show.name}: it has {counted(total, 'bar')}"
    hint = "count the bars as they are written, x2 as two bars, and leave out pickups"
    resolver.faults.add("no-such-bar", show.place_span or show.span, message, hint)
