"""Rules about the form: playings that lose bars without saying so."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.diagnostics import Diagnostic
from fretloom.notation.model.form import LAST, ChangeBars, FormEntry
from fretloom.performance.reading import Reading
from fretloom.rule_facts import Severity
from fretloom.text import agreeing, counted


def playings_shortened(reading: Reading) -> Iterator[Diagnostic]:
    """Find changes that put fewer bars in the place of several, which a playing then lacks."""
    form = reading.lesson.form
    for entry in form.entries if form is not None else ():
        if isinstance(entry, FormEntry):
            for but in entry.buts:
                if (
                    isinstance(but, ChangeBars)
                    and not but.open_end
                    and LAST not in (but.first, but.last)
                ):
                    yield from _shortened(entry, but)


def _shortened(entry: FormEntry, but: ChangeBars) -> Iterator[Diagnostic]:
    old, new = but.last - but.first + 1, sum(bar.times for bar in but.bars)
    span = but.place_span or but.span
    if new >= old or span is None:
        return
    gone, last = counted(old - new, "bar"), but.last
    without = f"bar {last}" if old - new == 1 else f"bars {last - (old - new) + 1}-{last}"
    takes = agreeing(new, "takes", "take")
    yield Diagnostic(
        rule="playing-shortened",
        severity=Severity.WARNING,
        message=f"{counted(new, 'bar')} {takes} the place of bars {but.first} to {but.last} of "
        f"{entry.section}, so this playing is {gone} shorter",
        span=span,
        hint=f"write {old} bars; if it is to be shorter, say so with `but without {without}`",
    )
