"""The time there is for a change from one hold to the next, and how pressed it is: one reckoning for all."""

from __future__ import annotations

from fretloom.performance.hands.holds import Moment
from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.playability.moving.changes import change
from fretloom.trade.playability.moving.haste import Haste, Times, haste
from fretloom.trade.playability.moving.skills import Skill
from fretloom.trade.playability.shape import Fretted

#: So many beats before a change the hand as a whole lets go of a voicing at the earliest, and so many
#: after it holds the next one together at the latest (assumptions).
LETS_GO, TOGETHER = 2, 1
#: The part of the time from one change to the next in which a hand may be changing (an assumption).
CHANGING = 0.7


def between(before: Moment, after: Moment) -> float:
    """Return the seconds from the start of one hold's bar to that of the next one's."""
    same_bar = before.played is after.played
    return 0.0 if same_bar else float(before.played.bar.length) * before.beat


def times_of_change(before: Moment, after: Moment) -> Times:
    """Return when fingers may leave one voicing and must be on the next, in seconds.

    They count from the start of the bar of `before`; a beat is a quarter. A finger may leave as soon
    as the last note that it stops is plucked.
    """
    old, new, beat, next_beat = before.hold, after.hold, before.beat, after.beat
    length = between(before, after)
    freed = {"": old.start * beat}
    for stop in old.stops:
        if stop.finger:
            freed[stop.finger] = stop.beat * beat
    if old.release is not None:
        freed = {finger: min(time, old.release * beat) for finger, time in freed.items()}
    needed: dict[str, float] = {}
    for stop in new.stops:
        if stop.finger and new.voicing.finger(stop.string) == stop.finger:
            needed.setdefault(stop.finger, length + stop.beat * next_beat)
    boundary = length + new.start * next_beat
    held = (old.end - old.start) * beat + (new.end - new.start) * next_beat
    return Times(
        freed,
        needed,
        boundary - LETS_GO * beat,
        boundary + TOGETHER * next_beat,
        CHANGING * held / 2,
    )


def pressed(neck: Neck, skill: Skill, before: Moment, after: Moment, times: Times) -> Haste | None:
    """Return how pressed a change is for a skill in the times there are, None if nothing moves in time."""
    one, other = before.hold.voicing, after.hold.voicing
    made = change(neck, Fretted(one.frets, one.fingers), Fretted(other.frets, other.fingers), skill)
    return haste(made, times)
