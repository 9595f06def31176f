"""What a house style asks of a lesson, and the lesson does not have."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.diagnostics import Diagnostic
from fretloom.errors import FretloomError
from fretloom.files import with_ends_of
from fretloom.notation.model.voicing import Add, VoicingEntry
from fretloom.notation.rereading import canonical
from fretloom.notation.syntax.fields.table import FIELDS
from fretloom.performance.reading import Reading
from fretloom.rule_facts import Severity
from fretloom.rules.house_style import HouseStyle
from fretloom.source import Source, Span
from fretloom.text import counted, listed


def asked_for(reading: Reading, style: HouseStyle) -> Iterator[Diagnostic]:
    """Find what is missing. A file without a heading, which others use, needs no heading and no steps."""
    heading = reading.lesson.heading
    if heading is not None and heading.title_span is not None:
        yield from _lines(reading, style, heading.title_span)
        if style.steps and reading.timeline.bars and not reading.material.steps:
            yield _found(
                "without-steps",
                heading.title_span,
                "no steps say in which order the song is practised",
                'add steps at the end, such as: step "The shapes", and below it: show voicing, and a name',
            )
    if style.fingers:
        yield from _voicings(reading)
    if style.canonical:
        yield from _form(reading)


def _lines(reading: Reading, style: HouseStyle, title: Span) -> Iterator[Diagnostic]:
    settings, unread = reading.material.settings, reading.material.unread_settings
    fields = [one for one in FIELDS.values() if one.word in style.heading]
    missing = [one for one in fields if one.name not in settings and one.name not in unread]
    if missing:
        words = [one.word for one in missing]
        what = "a line" if len(words) == 1 else counted(len(words), "line")
        yield _found(
            "heading-lacks-line",
            title,
            f"the heading lacks {what} that all lessons here have: {listed(words)}",
            f"add {listed(one.examples[0] for one in missing)}",
        )


def _voicings(reading: Reading) -> Iterator[Diagnostic]:
    for entry in reading.lesson.voicings:
        span = entry.name_span or entry.span
        if span is not None and _open(entry):
            yield _found(
                "fingers-left-out",
                span,
                f"{entry.name}: nothing says which fingers hold it",
                "add fingers, a place for each string: 1 to 4, T for the thumb, a dot where none is",
            )


def _open(entry: VoicingEntry) -> bool:
    """Whether a string is held and the line says no finger for it."""
    added = any(isinstance(one, Add) and one.fret and one.finger is None for one in entry.changes)
    return added or (any(entry.frets) and not entry.fingers)


def _form(reading: Reading) -> Iterator[Diagnostic]:
    source = reading.lesson.source
    if source is None or any(one.severity is Severity.ERROR for one in reading.lesson.faults):
        return
    try:
        wanted = with_ends_of(source.text, canonical(reading.lesson))
    except FretloomError:  # It has more faults than are read.
        return
    if wanted == source.text:
        return
    pairs = enumerate(zip(wanted, source.text, strict=False))
    same = min(len(wanted), len(source.text))
    line, _ = source.position(next((place for place, (one, is_) in pairs if one != is_), same))
    yield _found(
        "not-canonical",
        _line(source, line),
        "the file is not in canonical form, from this line on",
        "`fretloom format` writes it in that form",
    )


def _line(source: Source, number: int) -> Span:
    """Return what stands on a line, counted from 1, without the space around it."""
    start = source.line_starts()[number - 1]
    text = source.line_text(number)
    begin = len(text) - len(text.lstrip())
    return Span(
        source, start + begin, start + len(text.rstrip()) if text.strip() else start + begin
    )


def _found(rule: str, span: Span, message: str, hint: str) -> Diagnostic:
    return Diagnostic(rule=rule, severity=Severity.WARNING, message=message, span=span, hint=hint)
