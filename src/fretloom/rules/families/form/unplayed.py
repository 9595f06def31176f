"""Rules about the form: sections that are never played, or have nothing to play."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.diagnostics import Diagnostic
from fretloom.notation.model.form import FormEntry
from fretloom.notation.model.margin import Unread
from fretloom.notation.model.section import BarLine, EndingStart, Section, ShortBar
from fretloom.notation.model.step import Show
from fretloom.performance.reading import Reading
from fretloom.rule_facts import Severity
from fretloom.rules.usage import with_bases

_WITH_BARS = (BarLine, ShortBar, EndingStart, Unread)


def sections_without_bars(reading: Reading) -> Iterator[Diagnostic]:
    """Find sections in which no bar is written; what the form leaves out is said elsewhere."""
    unplayed = {one.name for one in _never_played(reading)}
    for section in reading.lesson.sections:
        span = section.name_span or section.span
        # Where it is said to have some, that they are missing is said already.
        if span is None or section.opening or section.stated_bars or section.name in unplayed:
            continue
        if not any(isinstance(line, _WITH_BARS) for line in section.lines):
            yield Diagnostic(
                rule="section-without-bars",
                severity=Severity.WARNING,
                message=f"the section {section.name} has no bars",
                span=span,
                hint="write its bars on the lines below, such as: C | G | Am | C",
            )


def sections_never_played(reading: Reading) -> Iterator[Diagnostic]:
    """Find sections that the form leaves out."""
    for section in _never_played(reading):
        span = section.name_span or section.span
        assert span is not None
        yield Diagnostic(
            rule="section-never-played",
            severity=Severity.WARNING,
            message=f"the form never plays the section {section.name}",
            span=span,
            hint=f"add a line {section.name} to the form, or remove the section",
        )


def _never_played(reading: Reading) -> Iterator[Section]:
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
        if section.name not in played | shown and (section.name_span or section.span):
            yield section
