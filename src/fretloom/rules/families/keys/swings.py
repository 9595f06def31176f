"""Rules about swing: meters that have no pairs to swing, ratios that say something else than is meant."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from fretloom.diagnostics import Diagnostic
from fretloom.performance.reading import Reading
from fretloom.rule_facts import Severity
from fretloom.source import Span
from fretloom.trade.music.meter import Meter
from fretloom.trade.music.swing import swung_notes

_EIGHTH = Fraction(1, 2)
_NOTES = {Fraction(1): "quarter notes", Fraction(2): "half notes", Fraction(1, 4): "sixteenths"}


def swings_and_meters(reading: Reading) -> Iterator[Diagnostic]:
    """Find a swing that a meter of the lesson cannot have, or whose ratio is not long and short."""
    line = reading.lesson.heading.setting("swing") if reading.lesson.heading else None
    span = (line.value_span or line.span) if line is not None else None
    if line is None or span is None or not isinstance(line.value, tuple):
        return
    first, second = line.value  # As written: 1:1 is played straight.
    if first <= second:
        yield _ratio(first, second, span)
    if reading.timeline.settings.swing is None:
        return
    meters = dict.fromkeys(one.bar.meter for one in reading.timeline.bars)
    some = any(swung_notes(meter) for meter in meters)
    for meter in meters:
        paired = bool(swung_notes(meter))
        found = _other_notes(meter, span) if paired else _without_pairs(meter, some, span)
        if found is not None:
            yield found
            return


def _ratio(first: int, second: int, span: Span) -> Diagnostic:
    what = "both halves of a beat are equally long, which is not a swing"
    hint = "leave the line out, or write how much longer the first one is: swing 2:1"
    if first < second:
        what = "the first half of a beat is the shorter one"
        hint = f"if it is to be the longer one, as is usual, write swing {second}:{first}"
    return _found(Severity.INFO, f"swing {first}:{second}: {what}", hint, span)


def _without_pairs(meter: Meter, others: bool, span: Span) -> Diagnostic:
    """Say that nothing swings in a meter; where other bars do swing, that is only a remark (`others`)."""
    message = f"a beat of {meter} has no halves, so nothing swings there"
    if others:
        hint = f"the bars in {meter} are played straight; if that is meant, leave it as it is"
        return _found(Severity.INFO, message, hint, span)
    hint = "leave the swing out: three eighths in a beat already sound long and short"
    return _found(Severity.WARNING, message, hint, span)


def _other_notes(meter: Meter, span: Span) -> Diagnostic | None:
    (note,) = swung_notes(meter) if len(swung_notes(meter)) == 1 else (_EIGHTH,)
    if note == _EIGHTH:
        return None
    notes = _NOTES.get(note, "other notes than eighths")
    other = "4/4" if note > _EIGHTH else "a meter that is counted in quarter notes"
    message = f"in {meter} a swing is for the halves of its beats, so {notes} swing"
    return _found(Severity.INFO, message, f"if eighths are to swing, write {other}", span)


def _found(severity: Severity, message: str, hint: str, span: Span) -> Diagnostic:
    return Diagnostic(
        rule="swing-and-meter", severity=severity, message=message, span=span, hint=hint
    )
