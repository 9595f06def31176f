"""Rules about names: what is defined twice, what is defined and never used."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.diagnostics import Diagnostic, Edit, Related
from fretloom.edits import without_line
from fretloom.notation.model.heading import Setting
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.model.pattern import Pattern
from fretloom.notation.model.section import Section
from fretloom.notation.model.voicing import VoicingEntry
from fretloom.notation.syntax.fields.table import FIELDS
from fretloom.performance.reading import Reading
from fretloom.rule_facts import Severity
from fretloom.rules.usage import usage_of, with_bases
from fretloom.source import Span


def doubled_names(reading: Reading) -> Iterator[Diagnostic]:
    """Find what is defined twice in one file: voicings, patterns, sections, fields, picking fingers."""
    first: dict[tuple[str, str], tuple[Span, Span | None]] = {}
    for kind, name, span, line in _definitions(reading.lesson):
        if span is None:
            continue
        before, same = first.setdefault((kind, name), (span, line))
        if before is not span:
            says_the_same = line and same and line.text.split() == same.text.split()
            edits = without_line(line) if line and says_the_same and kind != "section" else ()
            yield _doubled(kind, name, span, before, edits)


def _definitions(lesson: Lesson) -> Iterator[tuple[str, str, Span | None, Span | None]]:
    """Yield kind and name of what is defined, where the name stands, and the whole line."""
    for line in lesson.heading.settings if lesson.heading else ():
        if isinstance(line, Setting):
            yield "field", FIELDS[line.name].word, line.span, line.span
    for home in lesson.homes:
        yield "picking finger", home.finger, home.span, home.span
    named: tuple[tuple[str, tuple[VoicingEntry | Pattern | Section, ...]], ...] = (
        ("voicing", lesson.voicings),
        ("pattern", lesson.patterns),
        ("section", lesson.sections),
    )
    for kind, entries in named:
        for entry in entries:
            yield kind, entry.name, entry.name_span or entry.span, entry.span


def _doubled(kind: str, name: str, span: Span, before: Span, edits: tuple[Edit, ...]) -> Diagnostic:
    if kind in ("field", "picking finger"):
        hint = "keep one of the two lines"
    elif kind == "voicing":
        hint = f"give one of them another name, for instance {name}.two, or remove one"
    else:
        hint = f"give one of them another name, for instance {name}-two, or remove one"
    return Diagnostic(
        rule="doubled-name",
        severity=Severity.ERROR,
        message=f"the {kind} {name} is given twice: here and on line {before.line}",
        span=span,
        hint=hint,
        related=(Related(message="given first here", span=before),),
        edits=edits,
    )


def unused_names(reading: Reading) -> Iterator[Diagnostic]:
    """Find voicings and patterns that no section, bar, step or other voicing of the lesson uses."""
    lesson = reading.lesson
    if reading.found("unknown-voicing") or not (lesson.voicings or lesson.patterns):
        return
    if _is_library(lesson) or not _all_read(lesson):
        return
    used = usage_of(lesson)
    for entry in lesson.voicings:
        if entry.name not in used.voicings:
            yield from _unused("voicing", entry)
    for pattern in () if reading.found("unknown-pattern") else lesson.patterns:
        if pattern.name not in used.patterns:
            yield from _unused("pattern", pattern)


def _is_library(lesson: Lesson) -> bool:
    """Whether the file only holds voicings and patterns for others."""
    return not any(one.sections for one in with_bases(lesson))


def _all_read(lesson: Lesson) -> bool:
    """Whether every line was understood: a line that was not may use the name."""
    faults = [fault for one in with_bases(lesson) for fault in one.faults]
    return all(fault.severity is not Severity.ERROR for fault in faults)


def _unused(kind: str, entry: VoicingEntry | Pattern) -> Iterator[Diagnostic]:
    span = entry.name_span or entry.span
    if span is not None:
        yield Diagnostic(
            rule=f"unused-{kind}",
            severity=Severity.WARNING,
            message=f"the {kind} {entry.name} is never used in this lesson",
            span=span,
            hint="use it in a section or a step, or remove the line (is it misspelt elsewhere?)",
        )
