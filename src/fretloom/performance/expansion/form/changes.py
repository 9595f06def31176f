"""A section as one entry of the form plays it: its written bars with the `but` lines applied."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Literal

from attrs import evolve, field

from fretloom.notation.model.form import (
    But,
    ChangeBars,
    ChangeDynamic,
    ChangePattern,
    ChangeTempo,
    ChangeWords,
    DropBars,
    DynamicRun,
    FormEntry,
    KeepBars,
    TempoRun,
    WithoutRepeats,
)
from fretloom.notation.model.margin import Unread
from fretloom.performance.expansion.faults import Faults
from fretloom.performance.expansion.form.hows import How, Hows
from fretloom.performance.expansion.form.plan import Plan
from fretloom.performance.expansion.form.put_in import is_free, replaced_bars
from fretloom.performance.expansion.form.slots import Slot
from fretloom.source import Span
from fretloom.text import counted
from fretloom.trade.music.loudness import Dynamic
from fretloom.trade.music.tempo import Tempo
from fretloom.values import frozen

#: Changes that are for some bars, or may be.
_InPlace = (
    ChangeBars
    | DropBars
    | KeepBars
    | ChangePattern
    | ChangeTempo
    | ChangeDynamic
    | TempoRun
    | DynamicRun
)


@frozen(eq=False)
class Playing:
    """How an entry of the form plays a section.

    `using` is the pattern in place of the section's own ("": none), `dynamic` how loud it begins
    ("": nothing is said); `replaced` gives, by index of a written bar, what is played in its place,
    and `how` how it is played. `once` says that repeats are left out; `verse` is the time whose
    words are sung, None for those of the time that it is.
    """

    plan: Plan
    tempo: Tempo
    using: str = ""
    using_span: Span | None = None
    replaced: Mapping[int, Sequence[Slot]] = field(factory=dict)
    how: Mapping[int, How] = field(factory=dict)
    dynamic: Dynamic | Literal[""] = ""
    once: bool = False
    verse: int | None = None

    def _order(self) -> Sequence[tuple[int, int]]:
        if self.once:
            return [(index, 1) for index in self.plan.once]
        return self.plan.order or ()

    def count(self) -> int:
        """Return how many bars one playing has, without writing them out."""
        if not self.replaced:
            return len(self.plan.once) if self.once else self.plan.played
        if self.plan.order is None and not self.once:
            return self.plan.played
        return sum(len(self.replaced.get(index, (0,))) for index, _ in self._order())

    def slots(self) -> list[tuple[Slot, int]]:
        """Return the bars in playing order, each with which time it comes in this playing."""
        slots = self.plan.slots
        return [
            (slot, time)
            for index, time in self._order()
            for slot in self.replaced.get(index, slots[index : index + 1])
        ]

    def pattern(self, slot: Slot) -> tuple[str, Span | None, int]:
        """Return the name of the pattern of a bar without its own, where that is said, and its place in it."""
        how = self.how.get(slot.index)
        if how is not None and how.using:
            return how.using, how.using_span, how.cycle
        if self.using:
            return self.using, self.using_span, slot.cycle
        if slot.using:
            return slot.using, slot.using_span, slot.cycle
        return self.plan.section.using, self.plan.section.using_span, slot.cycle

    def picks_as_written(self, slot: Slot) -> bool:
        """Whether a bar has the section's own pattern."""
        how = self.how.get(slot.index)
        return not self.using and not (how and how.using)


def as_written(plan: Plan, tempo: Tempo) -> Playing:
    """Return a playing that changes nothing."""
    return Playing(plan, tempo)


def plan_playing(plan: Plan, entry: FormEntry, tempo: Tempo, faults: Faults) -> Playing:
    """Apply the changes of a form entry to a section."""
    playing = as_written(plan, tempo)
    replaced: dict[int, Sequence[Slot]] = {}
    hows = Hows(plan, faults)
    taken: list[tuple[int, int]] = []
    for but in entry.buts:
        match but:
            case ChangeBars() | DropBars():
                place = _bars_meant(plan, but, faults)
                if place is not None and is_free(plan, place, taken, but, faults):
                    taken.append(place)
                    replaced |= replaced_bars(plan, place, but, faults)
            case KeepBars():
                place = _bars_meant(plan, but, faults)
                replaced |= {} if place is None else _others(plan, place)
            case WithoutRepeats():
                playing = evolve(playing, once=True)
                if not any(plan.signs.repeats.values()) and plan.complete:
                    message = f"{plan.section.name} has no repeats to leave out"
                    faults.add("no-such-bar", but.span, message, "remove the line")
            case ChangeWords():
                playing = evolve(playing, verse=but.verse)
            case Unread():
                pass
            case _ if but.first is None:
                playing = _whole(playing, but)
            case _:
                place = _bars_meant(plan, but, faults)
                if place is not None:
                    hows.add(place, but)
    return evolve(playing, replaced=replaced, how=hows.by_bar())


def _whole(playing: Playing, but: But) -> Playing:
    """Apply a change of how the whole playing goes."""
    match but:
        case ChangePattern():
            return evolve(playing, using=but.using, using_span=but.using_span or but.span)
        case ChangeTempo():
            return evolve(playing, tempo=but.tempo)
        case ChangeDynamic():
            return evolve(playing, dynamic=but.dynamic)
    return playing


def _others(plan: Plan, place: tuple[int, int]) -> dict[int, Sequence[Slot]]:
    """Return nothing in the place of all bars outside of a run; a pickup belongs to bar 1."""
    first, last = place
    kept = range(0 if first == 1 else first, last + 1)
    return {slot.index: () for slot in plan.slots if slot.number not in kept}


def _bars_meant(plan: Plan, but: _InPlace, faults: Faults) -> tuple[int, int] | None:
    """Return the numbers of the first and last bar that a change is for."""
    total = plan.counted
    first, last = (one or 0 for one in (but.first, but.last))
    first, last = (total + 1 + one if one < 0 else one for one in (first, last))
    if 1 <= first <= last <= total:
        return first, last
    if plan.complete and total:
        name = plan.section.name
        wrong = f"bar {first}" if not 1 <= first <= total else f"bar {last}"
        if first < 1:
            wrong = f"run of the last {counted(-(but.first or 0), 'bar')}"
        message = f"there is no {wrong} in {name}: it has {counted(total, 'bar')}"
        if 1 <= last < first <= total:
            message = f"bars {first} to {last} of {name} run backwards"
        hint = "count the bars as they are written, x2 as two bars, and leave out pickups"
        faults.add("no-such-bar", but.place_span or but.span, message, hint)
    return None
