"""The bars that a `but` puts in the place of others."""

from __future__ import annotations

from collections.abc import Sequence

from attrs import evolve

from fretloom.limits import LIMITS
from fretloom.notation.model.form import But, ChangeBars, DropBars
from fretloom.notation.model.section import Bar
from fretloom.performance.expansion.faults import Faults
from fretloom.performance.expansion.form.plan import Plan
from fretloom.performance.expansion.form.slots import (
    Slot,
    filled_in,
    next_written,
    waiting_last,
    with_runs,
)
from fretloom.source import Span


def is_free(
    plan: Plan,
    place: tuple[int, int],
    taken: list[tuple[int, int]],
    but: But,
    faults: Faults,
) -> bool:
    """Whether no other change is for the same bars; if one is, that is noted."""
    for first, last in taken:
        low, high = max(first, place[0]), min(last, place[1])
        if low <= high:
            both = f"bar {low}" if low == high else f"bars {low} to {high}"
            message = f"{both} of {plan.section.name} would be changed twice in one playing"
            hint = "give each `but` bars of its own, or write the two changes as one"
            place_span = getattr(but, "place_span", None)
            faults.add("changes-overlap", place_span or getattr(but, "span", None), message, hint)
            return False
    return True


def replaced_bars(
    plan: Plan, place: tuple[int, int], but: ChangeBars | DropBars, faults: Faults
) -> dict[int, Sequence[Slot]]:
    """Return what is played instead of some bars, all of it at the first of them."""
    old = [plan.numbered[number] for number in range(place[0], place[1] + 1)]
    new: list[Slot] = []
    if isinstance(but, ChangeBars):
        total = sum(bar.times for bar in but.bars)
        if total > LIMITS.bars_written:
            _too_many(but.span, total, faults)
            return {}
        new = _new_slots(plan, but, old, plan.numbered.get(place[0] - 1), faults)
    return {slot.index: () for slot in old} | {old[0].index: new}


def _too_many(span: Span | None, total: int, faults: Faults) -> None:
    message = f"{total} bars are put in here, and the limit is {LIMITS.bars_written}"
    faults.add("too-many-bars", span, message, "write fewer bars")


def _new_slots(
    plan: Plan, but: ChangeBars, old: list[Slot], before: Slot | None, faults: Faults
) -> list[Slot]:
    """Make the bars that are played instead of `old`; `before` is the section's bar before them."""
    new: list[Slot] = []
    previous = before.bar if before else None
    for bar in but.bars:
        written = next_written()
        for time in range(bar.times):
            at = old[min(len(new), len(old) - 1)]
            whole, _ = waiting_last(
                _filled(bar, at, previous, plan.section.name, faults), written, time
            )
            new.append(
                Slot(
                    bar=whole,
                    # A bar that was filled in is another one each time.
                    written=written if whole is bar else next_written(),
                    meter=at.meter,
                    where=f"bar {at.number} of {plan.section.name} as the form changes it",
                    number=at.number,
                    index=at.index,
                    length=at.meter.length,
                    cycle=old[0].cycle + len(new),
                    cue="" if time else whole.cue,
                    inherited=len(whole.patches) - len(bar.patches),
                    placed=False,
                    using=at.using,
                    using_span=at.using_span,
                    pace=at.pace,
                    sung=at.sung if len(new) < len(old) else (),
                )
            )
        previous = new[-1].bar if new else previous
    if new and old[-1].kind == "last":
        last = old[-1]
        new[-1] = evolve(new[-1], start=last.start, length=last.length, kind=last.kind)
    return with_runs(new)


def _filled(bar: Bar, at: Slot, previous: Bar | None, section: str, faults: Faults) -> Bar:
    if bar.kind == "written":
        return filled_in(bar, at.bar, keep_cue=True)
    if bar.kind != "same":
        return bar
    if previous is None:
        message = f"there is no bar of {section} before this % to play again"
        faults.add("nothing-before", bar.span, message, "write the bar out")
        return Bar(kind="unread", span=bar.span)
    return filled_in(bar, previous, keep_cue=False)
