"""Rules about bars in performing order: pickups and incomplete last bars that do not fit together."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise

from fretloom.diagnostics import Diagnostic, Related
from fretloom.performance.events import PlayedBar, TimedBar
from fretloom.performance.reading import Reading
from fretloom.rule_facts import Severity
from fretloom.text import counted
from fretloom.trade.music.meter import Meter


def pickups_that_do_not_fit(reading: Reading) -> Iterator[Diagnostic]:
    """Find pickups after a bar that is not short by as much, and short bars that are not completed by a pickup."""
    if not reading.sound:
        return
    said: set[tuple[int, int]] = set()
    for before, after in pairwise(reading.timeline.bars):
        key = (before.bar.serial, after.bar.serial)
        if key in said or (before.bar.kind == "full" and after.bar.kind != "pickup"):
            continue
        said.add(key)
        yield from _meeting(before, after)


def _meeting(before: PlayedBar, after: PlayedBar) -> Iterator[Diagnostic]:
    first, second = before.bar, after.bar
    # A pickup before the very first bar has nothing to complete, and is completed by nothing.
    if second.kind != "pickup" and first.kind != "last":
        return
    pickup = second.length if second.kind == "pickup" else Fraction(0)
    found, whole = first.length + pickup, first.meter.length
    if found == whole or second.span is None or first.span is None:
        return
    yield _pickup(before, after) if pickup else _gap(before, after)


def _pickup(before: PlayedBar, after: PlayedBar) -> Diagnostic:
    lengths = (before.bar.length, after.bar.length)
    words = _about_pickup(before.section, after.section, lengths, before.bar.meter)
    return _finding(*words, after.bar, before.bar)


@lru_cache(maxsize=64)
def _about_pickup(
    before: str, after: str, lengths: tuple[Fraction, Fraction], meter: Meter
) -> tuple[str, str]:
    """Return message and hint for a pickup; where thousands of the kind meet, they are put in words once."""
    last, pickup = lengths
    message = (
        f"the pickup of {after} ({_counted(pickup, meter)}) follows a bar of "
        f"{_counted(last, meter)} in {before}: together {_counted(last + pickup, meter)} "
        f"where a bar has {_counted(meter.length, meter)}"
    )
    wanted = meter.length - pickup
    return message, f"end {before} with an incomplete bar: last {_number(wanted, meter)}: ..."


def _gap(before: PlayedBar, after: PlayedBar) -> Diagnostic:
    meter = before.bar.meter
    missing = meter.length - before.bar.length
    message = (
        f"the last bar of {before.section} ({_counted(before.bar.length, meter)}) is not completed: "
        f"{after.section} follows without a pickup of {_counted(missing, meter)}"
    )
    start = meter.count_at(meter.length - missing)
    hint = f"begin {after.section} with pickup from {start}: ..., or write the bar in full"
    return _finding(message, hint, before.bar, after.bar)


def _finding(message: str, hint: str, at: TimedBar, related: TimedBar) -> Diagnostic:
    assert at.span is not None and related.span is not None
    return Diagnostic(
        rule="pickup-does-not-fit",
        severity=Severity.WARNING,
        message=message,
        span=at.span,
        hint=hint,
        related=(Related(message="these two bars meet in the form", span=related.span),),
    )


def _number(length: Fraction, meter: Meter) -> str:
    """Return a length as `pickup` and `last` take it: in beats, where all beats are equal."""
    beats = meter.beat_at(length)
    whole, part = divmod(beats, 1)
    if not part:
        return str(whole)
    return str(float(beats)) if part.denominator in (2, 4) else str(beats)


def _counted(length: Fraction, meter: Meter) -> str:
    """Say how long something is, the way the meter is counted: `3 beats`, `5 counts`."""
    number = length / meter.count_length
    word = "count" if meter.counts_units else "beat"
    whole, part = divmod(number, 1)
    mixed = " ".join(str(one) for one in (whole, part) if one)
    return counted(mixed, word)
