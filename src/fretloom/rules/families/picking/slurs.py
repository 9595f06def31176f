"""The rule on hammer-ons, pull-offs and slides that cannot be what they are called."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.diagnostics import Diagnostic
from fretloom.performance.events import TimedNote
from fretloom.performance.reading import Reading
from fretloom.rule_facts import Severity
from fretloom.source import Span

_WAYS = {"hammer-on": "goes up", "pull-off": "goes down", "slide": "goes to another fret"}


def slurs_the_wrong_way(reading: Reading) -> Iterator[Diagnostic]:
    """Find hammer-ons that do not go up, pull-offs that do not go down, and slides that do not move."""
    known: set[tuple[int, int]] = set()
    for _, bar in reading.timeline.distinct_bars():
        for note in bar.notes:
            span = note.pluck_span or note.bar_span
            if not note.slurs or span is None or (span.start, note.fret) in known:
                continue
            found = _wrong(note, span)
            if found is not None:
                known.add((span.start, note.fret))
                yield found


def _wrong(note: TimedNote, span: Span) -> Diagnostic | None:
    fret = note.fret
    for slur in note.slurs:
        step = slur.fret - fret
        right = {"hammer-on": step > 0, "pull-off": step < 0, "slide": step != 0}[slur.kind]
        if not right:
            return Diagnostic(
                rule="slur-wrong-way",
                severity=Severity.ERROR,
                message=f"a {slur.kind} {_WAYS[slur.kind]}, but this one goes from fret {fret} "
                f"to fret {slur.fret} on string {note.string}",
                span=span,
                hint=_way_out(step),
            )
        fret = slur.fret
    return None


def _way_out(step: int) -> str:
    if step == 0:
        return "name the fret it goes to, or leave it out"
    other = "p (pull-off)" if step < 0 else "h (hammer-on)"
    return f"write {other} or s (slide) before the fret, or another fret"
