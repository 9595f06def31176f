"""Rules about the form: sections that are never played."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.diagnostics import Diagnostic
from fretloom.notation.model.form import FormEntry
from fretloom.notation.model.step import Show
from fretloom.performance.reading import Reading
from fretloom.rule_facts import Severity
from fretloom.rules.usage import with_bases


def sections_never_played(reading: Reading) -> Iterator[Diagnostic]:
    """Find sections that the form leaves out."""
    lesson = reading.lesson
    form = next((one.form for one in with_bases(lesson) if one.form), None)
    if form is None or any(not isinstance(entry, FormEntry) for entry in form.entries):
        return
    if reading.found("unknown-section"):
        return
    played = {entry.section for entry in form.entries if isinstance(entry, FormEntry)}
    shown = {
        line.name
        for step in lesson.steps
        for line in step.lines
        if isinstance(line, Show) and line.kind in ("section", "bars")
    }
    for section in lesson.sections:
        span = section.name_span or section.span
        if section.name in played | shown or span is None:
            continue
        yield Diagnostic(
            rule="section-never-played",
            severity=Severity.WARNING,
            message=f"the form never plays the section {section.name}",
            span=span,
            hint=f"add a line {section.name} to the form, or remove the section",
        )
