"""The steps laid over days: what is new apart until it is right, then mixed with what is known.

Mixed practice stays longer than practice in blocks: Carter and Grahn 2016, Frontiers in Psychology 7:1251. So what
is new has minutes of its own on its first day, and from the next day on it takes turns with the rest in short items.
A run of minutes begins with a warm-up and ends after 25 minutes at the latest; a piece climbs one step of its ladder
a day at the most, and every day has as many minutes as the one before (the load grows slowly: Chan and Ackermann
2014, Frontiers in Psychology, doi 10.3389/fpsyg.2014.00706; the figures are common practice, without a source).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import timedelta

from attrs import evolve

from fretloom.notation.model.step import Show
from fretloom.practising.days import PAUSE, date_words, runs
from fretloom.practising.minutes import AGAIN, DRILL, FIRST, Begun, TimeSlot, longest, spend, turns
from fretloom.practising.plan import (
    ChangeDrill,
    PathStep,
    PracticeSession,
    PracticeWish,
    SessionItem,
)
from fretloom.trade.phrases.table import say
from fretloom.values import frozen

#: Minutes to warm up; less in a short session.
WARM_UP, SHORT_WARM_UP, SHORT = 3, 2, 15
#: All pieces are begun in this part of the sessions, so that there are some left to mix them all.
BEGUN = (2, 3)


@frozen
class LaidOut:
    """The sessions, the steps with their minutes and days, and the numbers of those there is no time for."""

    steps: tuple[PathStep, ...]
    sessions: tuple[PracticeSession, ...]
    later: tuple[int, ...]


def lay_out(
    steps: Sequence[PathStep], drills: Sequence[ChangeDrill], wish: PracticeWish
) -> LaidOut:
    """Lay steps and drills over the days of a wish; each day has exactly the minutes that were asked for."""
    parts = [(step.number, part) for step in steps for part in step.parts]
    plan = _Calendar(
        [Begun(number, part, at) for at, (number, part) in enumerate(parts)], drills, wish
    )
    sessions = tuple(plan.sessions())
    minutes: dict[int, int] = {}
    days: dict[int, dict[int, None]] = {}
    for session in sessions:
        for item in session.items:
            minutes[item.step] = minutes.get(item.step, 0) + item.minutes
            days.setdefault(item.step, {})[session.day] = None
    return LaidOut(
        tuple(
            evolve(one, minutes=minutes.get(one.number, 0), days=tuple(days.get(one.number, ())))
            for one in steps
        ),
        sessions,
        tuple(dict.fromkeys(task.step for task in plan.waiting)),
    )


class _Calendar:
    """Fills session after session."""

    def __init__(
        self, tasks: list[Begun], drills: Sequence[ChangeDrill], wish: PracticeWish
    ) -> None:
        self.waiting, self._begun = tasks, list[Begun]()
        self._drills, self._wish = drills, wish
        self._drilled = dict.fromkeys(range(len(drills)), -1)
        self._runs = runs(wish.minutes)
        total = wish.days * len(self._runs)
        self._target = max(1, -(-total * BEGUN[0] // BEGUN[1]))

    def sessions(self) -> Iterator[PracticeSession]:
        """Yield all sessions of all days."""
        number = 0
        for day in range(1, self._wish.days + 1):
            for at, minutes in enumerate(self._runs):
                slots = self._fill(number, minutes)
                begin = self._wish.begin
                when = begin + timedelta(days=day - 1) if begin is not None else None
                yield PracticeSession(
                    day=day,
                    date=when,
                    date_words=date_words(when) if when is not None else "",
                    items=tuple(self._item(slot, day) for slot in slots),
                    pause=PAUSE if at + 1 < len(self._runs) else 0,
                )
                for slot in slots:
                    if slot.task is not None:
                        slot.task.days.add(day)
                        slot.task.last = number
                number += 1

    def _fill(self, number: int, minutes: int) -> list[TimeSlot]:
        warm_up = WARM_UP if minutes >= SHORT else SHORT_WARM_UP
        left = minutes - warm_up
        old = list(self._begun)
        new = self._new(number, left)
        left -= sum(slot.minutes for slot in new)
        song = [] if any(map(_is_song, new)) else self._song(old, left)
        left -= sum(slot.minutes for slot in song)
        mixed = self._mixed(old, number, left)
        left -= sum(slot.minutes for slot in mixed)
        song += [slot for slot in new if _is_song(slot)]
        slots = [*(slot for slot in new if not _is_song(slot)), *mixed]
        slots += [
            *turns(slots, left - sum(slot.most - slot.minutes for slot in (*slots, *song))),
            *song,
        ]
        spend(slots, minutes - warm_up - sum(slot.minutes for slot in slots))
        missing = minutes - sum(slot.minutes for slot in slots)
        return [TimeSlot("warm-up", missing, missing), *slots]

    def _new(self, number: int, left: int) -> list[TimeSlot]:
        """Take what is begun in a session: its share, and as much as leaves some time for what is known."""
        if not self.waiting:
            return []
        most = left - left // 3 if self._begun else left
        ahead = sum(FIRST[task.kind] for task in self.waiting)
        share = -(-ahead // max(1, self._target - number))
        slots: list[TimeSlot] = []
        while self.waiting:
            minutes = FIRST[self.waiting[0].kind]
            spent = sum(slot.minutes for slot in slots)
            known = sum(map(longest, self._begun))  # What is begun here is among them.
            enough = 2 * known >= left
            if spent + minutes > most or (slots and enough and spent + minutes > share):
                break
            task = self.waiting.pop(0)
            for other in self._begun:
                other.covered = other.covered or task.covers(other)
            self._begun.append(task)
            slots.append(TimeSlot("new", minutes, longest(task), task))
        return slots

    def _song(self, old: list[Begun], left: int) -> list[TimeSlot]:
        """Take the whole song for the end, once it is known."""
        songs = [task for task in old if task.kind == "form"]
        if not songs or left < AGAIN["form"]:
            return []
        minutes = AGAIN["form"] if self.waiting else FIRST["form"]
        return [TimeSlot("song", min(left, minutes), longest(songs[-1]), songs[-1])]

    def _mixed(self, old: list[Begun], number: int, left: int) -> list[TimeSlot]:
        """Take what is known and has waited longest, with the drills between."""
        drills = [
            at for at in sorted(self._drilled, key=lambda one: (self._drilled[one], one))
            if self._may_drill(self._drills[at], old)
        ]  # fmt: skip
        drilled = [_pair(self._drills[at].show) for at in drills]
        rest = [
            task for task in old if task.kind != "form" and _pair(task.part.show) not in drilled
        ]
        rest.sort(key=lambda task: (task.done, task.last, -task.order))
        slots: list[TimeSlot] = []
        while left >= DRILL and (rest or drills):
            if drills and ((len(slots) + number) % 2 or not rest):
                at = drills.pop(0)
                self._drilled[at] = number
                slots.append(TimeSlot("drill", DRILL, DRILL, drill=self._drills[at]))
            else:
                task = rest.pop(0)
                minutes = min(left, AGAIN[task.kind])
                slots.append(TimeSlot("again", minutes, longest(task), task))
            left -= slots[-1].minutes
        return slots

    def _may_drill(self, drill: ChangeDrill, old: list[Begun]) -> bool:
        return any(one in task.part.asks for one in drill.asks for task in old)

    def _item(self, slot: TimeSlot, day: int) -> SessionItem:
        if slot.drill is not None:
            return SessionItem(
                kind="drill", doing=slot.drill.doing, where=slot.drill.where, step=0,
                minutes=slot.minutes, ready=say("practice.ready-drill"), rest=slot.drill.rest,
                show=slot.drill.show,
            )  # fmt: skip
        if slot.task is None:
            return SessionItem(
                kind="warm-up", doing=say("practice.do-warm-up"), where="", step=0,
                minutes=slot.minutes,
            )  # fmt: skip
        part, tempos = slot.task.part, slot.task.part.tempos
        item = SessionItem(
            kind=slot.kind, doing=part.doing, where=part.where, step=slot.task.step,
            minutes=slot.minutes, ready=part.ready, rest=part.rest, show=part.show,
            hands=part.hands,
        )  # fmt: skip
        if tempos is None:
            return item
        climbed = len(slot.task.days - {day})
        top = len(tempos.ladder) - 1
        return evolve(
            item,
            start=tempos.ladder[min(climbed, max(0, top - 1))],
            goal=tempos.ladder[min(climbed + 1, top)],
        )


def _pair(show: Show) -> frozenset[str] | None:
    """Return the shapes of a change, whichever comes first; None for anything else."""
    return frozenset((show.name, show.over)) if show.kind == "change" else None


def _is_song(slot: TimeSlot) -> bool:
    return slot.task is not None and slot.task.kind == "form"
