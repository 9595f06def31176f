"""The items of a session while its minutes are found: how long each is, and who gets what is left."""

from __future__ import annotations

from fretloom.practising.plan import ChangeDrill, ItemKind, PathPart

#: Minutes of a piece on its first day, and each time it comes again, by what is shown (assumptions).
FIRST = {"voicing": 2, "change": 2, "pattern": 3, "bars": 3, "section": 5, "form": 6}
AGAIN = {"voicing": 2, "change": 2, "pattern": 2, "bars": 2, "section": 3, "form": 4}
#: Those of a drill, and of a piece that comes a second time in a session.
DRILL, TURN = 2, 2
#: A shape has been looked at often enough after so many days.
SEEN = 3
#: No item is longer than this while others can have the minutes; what tires the hand ends sooner.
MOST = {"voicing": 2, "change": 3, "form": 8}
LONG, MOST_TIRING = 5, 3


class Begun:
    """A part of a step, and when it has been practised: the days, and in which session last."""

    def __init__(self, step: int, part: PathPart, order: int) -> None:
        self.step, self.part, self.order = step, part, order
        self.days: set[int] = set()
        self.last = -1
        self.covered = False

    @property
    def kind(self) -> str:
        """What is shown: a voicing, a change, a pattern, bars, a section, the form."""
        return self.part.show.kind

    @property
    def done(self) -> bool:
        """Whether a small piece has arrived at its goal, or stands in a larger one that is known."""
        if self.kind in ("section", "form"):
            return False
        tempos = self.part.tempos
        return self.covered or len(self.days) >= (len(tempos.ladder) if tempos else SEEN)

    def covers(self, other: Begun) -> bool:
        """Whether it has all of a smaller piece in it: a section of any, whatever is played of a shape."""
        larger = self.kind == "section" or self.kind != other.kind == "voicing"
        return larger and set(other.part.asks).issubset(self.part.asks)


class TimeSlot:
    """An item of a session while its minutes are being found."""

    def __init__(
        self,
        kind: ItemKind,
        minutes: int,
        most: int,
        task: Begun | None = None,
        drill: ChangeDrill | None = None,
    ) -> None:
        self.kind, self.minutes, self.most = kind, minutes, most
        self.task, self.drill = task, drill


def longest(task: Begun) -> int:
    """Return how many minutes a piece has at the most while others can have them."""
    most = MOST.get(task.kind, LONG)
    return min(most, MOST_TIRING) if is_short(task) else most


def is_short(task: Begun) -> bool:
    """Whether there is nothing but what tires the hand in a piece; in longer ones it can rest meanwhile."""
    return task.part.rest and task.kind in ("voicing", "change", "pattern")


def turns(slots: list[TimeSlot], left: int) -> list[TimeSlot]:
    """Return the pieces of a session once more, in turn, where its items would get too long otherwise."""
    tasks = [slot.task for slot in slots if slot.task is not None]
    again: list[TimeSlot] = []
    while left > 0 and len(tasks) > 1:
        task = tasks[len(again) % len(tasks)]
        again.append(TimeSlot("again", TURN, longest(task), task))
        left -= again[-1].most
    return again


def spend(slots: list[TimeSlot], left: int) -> None:
    """Give minutes that are left to the items in turn: first up to the most of each, then to those that do not tire."""
    while left > 0:
        open_slots = [slot for slot in slots if slot.minutes < slot.most] or [
            slot for slot in slots if slot.task is not None and not is_short(slot.task)
        ]
        if not open_slots:
            return
        for slot in open_slots[:left]:
            slot.minutes += 1
            left -= 1
