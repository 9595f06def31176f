"""Rules about the words of the song: words that no playing sings, and playings that ask for missing ones."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.diagnostics import Diagnostic
from fretloom.notation.model.form import ChangeWords, FormEntry
from fretloom.performance.events import WrittenSection
from fretloom.performance.reading import Reading
from fretloom.rule_facts import Severity
from fretloom.source import Span
from fretloom.text import counted

_RULE = "words-never-sung"


def words_never_sung(reading: Reading) -> Iterator[Diagnostic]:
    """Find lines of words for a time at which their bars do not come, and `but words` without such words."""
    timeline = reading.timeline
    sung: set[tuple[str, int | None, int | None]] = set()
    times: dict[tuple[str, int | None], int] = {}
    for played in timeline.bars:
        place = (played.section, played.written)
        times[place] = times.get(place, 0) + 1
        if played.sung is not None:
            sung.add((*place, played.sung.verse))
    for section in timeline.sections:
        yield from _never(section, sung, times)
    yield from _missing(reading)


def _never(
    section: WrittenSection,
    sung: set[tuple[str, int | None, int | None]],
    times: dict[tuple[str, int | None], int],
) -> Iterator[Diagnostic]:
    """Find the words of a section that are never sung, each line of them once."""
    lines: set[int] = set()
    for written, bar in enumerate(section.bars, 1):
        come = times.get((section.name, written), 0)
        for one in bar.sung if come else ():
            span = one.span
            if span is None or span.line in lines or (section.name, written, one.verse) in sung:
                continue
            lines.add(span.line)
            yield _found(span, one.verse, come)


def _found(span: Span, verse: int | None, come: int) -> Diagnostic:
    often = f"these bars come {counted(come, 'time')} in the song"
    message = f"the words for time {verse} are never sung: {often}"
    hint = "number words by the time that their bars come, each pass of a repeat a time, or sing them with `but words`"
    if verse is None:
        message = f"these words are never sung: {often}, and each time has words of its own"
        hint = "leave them out, or take the number from words that are meant for every time"
    return Diagnostic(rule=_RULE, severity=Severity.WARNING, message=message, span=span, hint=hint)


def _missing(reading: Reading) -> Iterator[Diagnostic]:
    """Find playings that ask for the words of a time for which their section has none."""
    verses = {
        section.name: {one.verse for bar in section.bars for one in bar.sung}
        for section in reading.timeline.sections
    }
    form = reading.lesson.form
    for entry in form.entries if form is not None else ():
        if isinstance(entry, FormEntry) and entry.section in verses:
            for but in entry.buts:
                if isinstance(but, ChangeWords) and but.span is not None:
                    yield from _asked_for(but, but.span, entry.section, verses[entry.section])


def _asked_for(
    but: ChangeWords, span: Span, section: str, known: set[int | None]
) -> Iterator[Diagnostic]:
    if but.verse in known:
        return
    there = ", ".join(str(one) for one in sorted(one for one in known if one is not None))
    yield Diagnostic(
        rule=_RULE,
        severity=Severity.WARNING,
        message=f"{section} has no words {but.verse}",
        span=span,
        hint=f"its words are numbered {there}" if there else "it has no words with a number",
    )
