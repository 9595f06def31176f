"""Rules about what one hears of a chord in a pattern."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.diagnostics import Diagnostic
from fretloom.performance.events import PlayedBar, Settings, TimedBar, TimedNote
from fretloom.performance.reading import Reading
from fretloom.performance.sounding.strings import (
    HeardString,
    Shifts,
    heard,
    name_shifts,
    symbol_of,
)
from fretloom.rule_facts import Severity
from fretloom.source import Span
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.harmony.degrees import Degree
from fretloom.trade.harmony.note_names import write_note
from fretloom.trade.harmony.symbol import ChordSymbol
from fretloom.trade.wording import strings_words

#: A bar with fewer strings plucked is a bass line or an ending and wants no whole chord.
_FEWEST_STRINGS = 3
_THIRDS = (Degree(3), Degree(3, -1))


def thirds_not_plucked(reading: Reading) -> Iterator[Diagnostic]:
    """Find voicings whose third is never plucked, in any run of bars over them.

    Reported once for each voicing, where it is first played so.
    """
    timeline = reading.timeline
    settings = timeline.settings
    shifts = name_shifts(timeline.voicings.values(), settings)
    found: dict[str, tuple[Voicing, str, Span]] = {}
    plucked: set[str] = set()
    judged: set[tuple[int, ...]] = set()
    known: dict[str, dict[int, HeardString]] = {}
    for run in _runs(timeline.bars):
        # bars that sound the same are one object, so what has been judged is known again
        key = tuple(played.bar.serial for played in run)
        if key in judged:
            continue
        judged.add(key)
        voicing = run[0].bar.voicings[0].voicing
        if voicing.name not in known:
            known[voicing.name] = _third_strings(voicing, settings, shifts)
        strings = known[voicing.name]
        if not strings:
            continue
        span = run[0].bar.voicings[0].span or run[0].bar.span
        if _plucks_third(run, strings):
            plucked.add(voicing.name)
        elif span is not None and _is_full(run):
            found.setdefault(voicing.name, (voicing, run[0].bar.pattern, span))
    for name, (voicing, pattern, span) in found.items():
        if name not in plucked:
            yield _third_missing(voicing, pattern, span, settings, shifts)


def _runs(bars: tuple[PlayedBar, ...]) -> Iterator[list[PlayedBar]]:
    """Yield runs of bars of one section that hold one and the same voicing throughout."""
    run: list[PlayedBar] = []
    for played in bars:
        if not _held(played.bar):
            if run:
                yield run
            run = []
            continue
        if run and not _goes_on(run[-1], played):
            yield run
            run = []
        run.append(played)
    if run:
        yield run


def _held(bar: TimedBar) -> bool:
    return len(bar.voicings) == 1 and bar.voicings[0].onset == 0 and not bar.rest


def _goes_on(before: PlayedBar, after: PlayedBar) -> bool:
    same = before.bar.voicings[0].voicing == after.bar.voicings[0].voicing
    return same and before.entry == after.entry and before.bar.pattern == after.bar.pattern


def _third_strings(voicing: Voicing, settings: Settings, shifts: Shifts) -> dict[int, HeardString]:
    """Return the strings on which a voicing holds the third of its chord symbol."""
    symbol = symbol_of(voicing, settings)
    if symbol is None:
        return {}
    third = _third(symbol)
    return {
        one.string: one
        for one in heard(voicing, settings, shifts)
        if third is not None and (one.hand - symbol.root.pitch_class) % 12 == third.semitones
    }


def _third(symbol: ChordSymbol) -> Degree | None:
    return next((degree for degree in symbol.degrees if degree in _THIRDS), None)


def _plucks_third(run: list[PlayedBar], thirds: dict[int, HeardString]) -> bool:
    """Whether a third is plucked, on any string, or reached by the fretting hand."""
    classes = {one.sounds % 12 for one in thirds.values()}
    return any(
        pitch % 12 in classes
        for played in run
        for note in played.bar.notes
        if not note.dead
        for pitch in _pitches(note)
    )


def _pitches(note: TimedNote) -> tuple[int, ...]:
    return (note.midi, *(slurred.midi for slurred in note.slurs))


def _is_full(run: list[PlayedBar]) -> bool:
    """Whether the bars are of a kind in which the whole chord is wanted: not a drill of the thumb."""
    notes = [note for played in run for note in played.bar.notes if not note.dead]
    fingers = any(note.finger != "p" for note in notes)
    strings = {note.string for note in notes}
    return run[0].bar.kind == "full" and len(strings) >= _FEWEST_STRINGS and fingers


def _third_missing(
    voicing: Voicing, pattern: str, span: Span, settings: Settings, shifts: Shifts
) -> Diagnostic:
    symbol = symbol_of(voicing, settings)
    third = _third(symbol) if symbol else None
    note = write_note(third.above(symbol.root), settings.names) if symbol and third else ""
    held = sorted(_third_strings(voicing, settings, shifts))
    called = f"the pattern {pattern}" if pattern else "what is plucked here"
    return Diagnostic(
        rule="third-not-plucked",
        severity=Severity.INFO,
        message=f"{voicing.name}: {called} never plucks its third, {note}, so it may be heard as "
        "another chord",
        span=span,
        hint=f"let a finger pluck {strings_words(held, 'or')}; if you want the open sound, leave it as it is",
    )
