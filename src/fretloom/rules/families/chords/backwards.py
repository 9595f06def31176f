"""Frets and tunings written from string 1 on: the names do not sound, but the other way round they do."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fretloom.diagnostics import Diagnostic, Edit, Related
from fretloom.notation.model.voicing import VoicingEntry
from fretloom.performance.events import Settings
from fretloom.performance.reading import Reading
from fretloom.performance.sounding.strings import heard, name_shifts, symbol_of
from fretloom.rule_facts import Severity
from fretloom.text import counted
from fretloom.trade.guitar.tuning import Tuning
from fretloom.trade.guitar.tunings import NAMED, parse_tuning
from fretloom.trade.guitar.voicing import Voicing, fingers_text
from fretloom.trade.harmony.fit import fit
from fretloom.values import evolve

#: From so many voicings on that do not sound, the tuning may be what is wrong.
_SEVERAL = 3
_MOST_TRIED = 24
_RULE = "name-does-not-sound"

#: A voicing with wrong notes: the entry that writes its frets, and what it is held like.
Wrong = tuple[VoicingEntry, Voicing]


def turned(reading: Reading, wrong: Sequence[Wrong]) -> tuple[list[Diagnostic], set[str]]:
    """Return findings on what is written from the wrong end, and the names of the voicings that they explain."""
    settings = reading.timeline.settings
    if settings.capo.strings:  # What a name means is not sure under a partial capo.
        return [], set()
    named = [one for one in reading.timeline.voicings.values() if symbol_of(one, settings)]
    found = _other_tuning(reading, settings, named, wrong)
    if found is not None:
        return [found], {entry.name for entry, _ in wrong}
    back = [(entry, one) for entry, one in wrong if _backwards(entry, one, settings)]
    if not back:
        return [], set()
    return [_finding(back, settings)], {entry.name for entry, _ in back}


def _fits(voicing: Voicing, settings: Settings, shifts: tuple[int, ...] = ()) -> bool:
    symbol = symbol_of(voicing, settings)
    strings = heard(voicing, settings, shifts)
    return (
        symbol is not None and bool(strings) and fit(symbol, [one.hand for one in strings]).accepted
    )


def _backwards(entry: VoicingEntry, voicing: Voicing, settings: Settings) -> bool:
    """Whether the frets that an entry writes sound its chord if they are read from the other end."""
    if not entry.frets or entry.changes or entry.frets == entry.frets[::-1]:
        return False
    return _fits(
        evolve(voicing, frets=entry.frets[::-1], fingers=(), hops=(), bass=voicing.bass), settings
    )


def _finding(back: Sequence[Wrong], settings: Settings) -> Diagnostic:
    (entry, voicing), others = back[0], back[1:]
    right = evolve(voicing, frets=entry.frets[::-1], fingers=(), hops=()).frets_text
    more = f" (and in {counted(len(others), 'more voicing')})" if others else ""
    edits = [edit for one, held in back for edit in _edits(one, held)]
    span = entry.frets_span or entry.span
    assert span is not None
    count = settings.tuning.strings
    return Diagnostic(
        rule=_RULE,
        severity=Severity.ERROR,
        message=f"{entry.name}: {voicing.frets_text} sounds {voicing.symbol} only the other way round{more}",
        span=span,
        hint=f"frets and fingers are written from string {count} to string 1: {right}",
        related=tuple(
            Related(message="this one too", span=one.frets_span)
            for one, _ in others
            if one.frets_span is not None
        ),
        edits=tuple(sorted(edits, key=lambda edit: edit.span.start)),
    )


def _edits(entry: VoicingEntry, voicing: Voicing) -> Iterator[Edit]:
    """Yield the edits that turn the frets round, and the fingers if they went with them."""
    if entry.frets_span is None:
        return
    right = evolve(voicing, frets=entry.frets[::-1], fingers=(), hops=()).frets_text
    yield Edit(span=entry.frets_span, text=right, title=f"write {right}")
    if entry.fingers and entry.fingers_span is not None and _go_with(entry.frets, entry.fingers):
        text = fingers_text(entry.fingers[::-1])
        start = entry.fingers_span.text.rfind(fingers_text(entry.fingers))
        if start >= 0:
            span = evolve(entry.fingers_span, start=entry.fingers_span.start + start)
            yield Edit(span=span, text=text, title=f"write {right}")


def _go_with(frets: Sequence[int | None], fingers: Sequence[object]) -> bool:
    """Whether there is a finger exactly where a fret is held."""
    return all(bool(fret) == bool(finger) for fret, finger in zip(frets, fingers, strict=True))


def _other_tuning(
    reading: Reading, settings: Settings, named: Sequence[Voicing], wrong: Sequence[Wrong]
) -> Diagnostic | None:
    """Return the finding that the tuning is another one, if all names sound in that one."""
    own = [one for one in named[:_MOST_TRIED] if any(one.frets)]
    if len(wrong) < _SEVERAL or 2 * len(wrong) < len(own):
        return None
    for tuning, called in _candidates(settings.tuning):
        there = evolve(settings, tuning=tuning)
        shifts = name_shifts(own, there)
        if all(_fits(one, there, shifts) for one in own):
            return _tuning_finding(reading, settings, called, len(wrong))
    return None


def _candidates(tuning: Tuning) -> Iterator[tuple[Tuning, str]]:
    """Yield the tuning from its other end, then the trade's tunings of as many strings."""
    if tuning.pitches != tuning.pitches[::-1] and not tuning.doubles:
        back = Tuning(tuning.pitches[::-1])
        yield back, " ".join(map(str, back.pitches))
    for name in NAMED:
        other = parse_tuning(name)
        if other.strings == tuning.strings and other.pitches != tuning.pitches:
            yield other, name


def _tuning_finding(
    reading: Reading, settings: Settings, called: str, wrong: int
) -> Diagnostic | None:
    line = reading.material.settings.get("tuning")
    heading = reading.lesson.heading
    span = (line.value_span or line.span) if line else (heading.span if heading else None)
    if span is None:
        return None
    tuning = settings.tuning.name or str(settings.tuning)
    edits = (
        (Edit(span=span, text=called, title=f"write {called}"),) if line and line.value_span else ()
    )
    return Diagnostic(
        rule=_RULE,
        severity=Severity.ERROR,
        message=f"{counted(wrong, 'voicing')} do not sound their names in {tuning}, but in {called} all do",
        span=span,
        hint=f"write `tuning {called}`, or other frets for the voicings",
        edits=edits,
    )
