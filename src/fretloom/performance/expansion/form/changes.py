"""A section as one entry of the form plays it: its written bars with the `but` lines applied."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from attrs import evolve, field

from fretloom.limits import LIMITS
from fretloom.notation.model.form import (
    LAST,
    ChangeBars,
    ChangePattern,
    ChangeTempo,
    DropBars,
    FormEntry,
)
from fretloom.notation.model.section import Bar
from fretloom.performance.expansion.faults import Faults
from fretloom.performance.expansion.form.plan import Plan
from fretloom.performance.expansion.form.slots import Slot, filled_in, next_written, with_runs
from fretloom.source import Span
from fretloom.text import counted
from fretloom.trade.music.tempo import Tempo
from fretloom.values import frozen


@frozen(eq=False)
class Playing:
    """How an entry of the form plays a section.

    `using` is the pattern in place of the section's own; `replaced` gives, by index of a written
    bar, what is played in its place.
    """

    plan: Plan
    tempo: Tempo
    using: str
    using_span: Span | None
    replaced: Mapping[int, Sequence[Slot]] = field(factory=dict)

    def count(self) -> int:
        """Return how many bars one playing has, without writing them out."""
        plan = self.plan
        if plan.order is None or not self.replaced:
            return plan.played
        return sum(len(self.replaced.get(index, (0,))) for index in plan.order)

    def slots(self) -> list[Slot]:
        """Return the bars in playing order."""
        slots = self.plan.slots
        return [
            slot
            for index in self.plan.order or ()
            for slot in self.replaced.get(index, slots[index : index + 1])
        ]


def as_written(plan: Plan, tempo: Tempo) -> Playing:
    """Return a playing that changes nothing."""
    return Playing(plan, tempo, plan.section.using, plan.section.using_span)


def plan_playing(plan: Plan, entry: FormEntry, tempo: Tempo, faults: Faults) -> Playing:
    """Apply the changes of a form entry to a section."""
    playing = as_written(plan, tempo)
    replaced: dict[int, Sequence[Slot]] = {}
    taken: list[tuple[int, int]] = []
    for but in entry.buts:
        match but:
            case ChangePattern():
                span = but.using_span or but.span
                playing = evolve(playing, using=but.using, using_span=span)
            case ChangeTempo():
                playing = evolve(playing, tempo=but.tempo)
            case ChangeBars() | DropBars():
                place = _bars_meant(plan, but, faults)
                if place is not None and _free(plan, place, taken, but, faults):
                    taken.append(place)
                    replaced |= _replaced(plan, place, but, faults)
    return evolve(playing, replaced=replaced)


def _bars_meant(plan: Plan, but: ChangeBars | DropBars, faults: Faults) -> tuple[int, int] | None:
    """Return the numbers of the first and last bar that a change is for."""
    total = plan.counted
    first = total if but.first == LAST else but.first
    last = total if but.last == LAST else but.last
    if 1 <= first <= last <= total:
        return first, last
    if plan.complete and total:
        name = plan.section.name
        wrong = f"bar {first}" if not 1 <= first <= total else f"bar {last}"
        message = f"there is no {wrong} in {name}: it has {counted(total, 'bar')}"
        if 1 <= last < first <= total:
            message = f"bars {first} to {last} of {name} run backwards"
        hint = "count the bars as they are written, x2 as two bars, and leave out pickups"
        faults.add("no-such-bar", but.place_span or but.span, message, hint)
    return None


def _free(
    plan: Plan,
    place: tuple[int, int],
    taken: list[tuple[int, int]],
    but: ChangeBars | DropBars,
    faults: Faults,
) -> bool:
    for first, last in taken:
        low, high = max(first, place[0]), min(last, place[1])
        if low <= high:
            both = f"bar {low}" if low == high else f"bars {low} to {high}"
            message = f"{both} of {plan.section.name} would be changed twice in one playing"
            hint = "give each `but` bars of its own, or write the two changes as one"
            faults.add("changes-overlap", but.place_span or but.span, message, hint)
            return False
    return True


def _replaced(
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
            whole = _filled(bar, at, previous, plan.section.name, faults)
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
                    tempo=at.tempo,
                    cycle=old[0].cycle + len(new),
                    cue="" if time else whole.cue,
                    inherited=len(whole.patches) - len(bar.patches),
                    placed=False,
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
