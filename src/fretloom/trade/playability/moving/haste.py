"""How pressed for time a change is: what each finger needs against what it has."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from fretloom.trade.playability.moving.changes import Change
from fretloom.values import frozen

#: One finger may be so many times later than a whole hand, or a barre on which the others hang (an
#: assumption).
ALONE = 1.4
#: The times of changes are estimates: for a player of a level a change counts as too fast when it needs so much
#: more than there is, less for a beginner, who cannot hurry.
TOO_FAST = {"beginner": 1.7, "intermediate": 2.0, "advanced": 2.0}


@frozen
class Haste:
    """How much a change is pressed for time.

    `ratio` is time needed by time there is: above 1 it cannot be done at this skill. `finger` is
    the one most pressed, "" when it is the whole hand. Times are in seconds; `available` may be
    negative when the finger is still sounding the voicing before. `alone` says that one finger is
    late and nothing waits for it: its note before is cut short a little.
    """

    ratio: float
    finger: str
    needed: float
    available: float
    alone: bool = False

    @property
    def pressure(self) -> float:
        """The ratio, less for a finger alone."""
        return self.ratio / ALONE if self.alone else self.ratio


@frozen
class Times:
    """When the fingers have to be where, all in seconds from one and the same moment.

    Args:
        freed: for each finger of the voicing before, from when it may leave (and under "" when a
            finger not in use may start).
        needed: when each finger of the new voicing has to be there; one that is missing is never
            in a hurry.
        earliest, latest: between these the hand as a whole goes from one to the other: nobody lets
            go of a voicing long before its end, or has the next one together long after its start.
        share: how long a hand has for changing where one finger alone is heard at once.
    """

    freed: Mapping[str, float]
    needed: Mapping[str, float]
    earliest: float = float("-inf")
    latest: float = float("inf")
    share: float = float("inf")

    def window(self, leaving: Iterable[float], arriving: Iterable[float]) -> float:
        """Return the seconds a hand has from the first finger that leaves to the last that arrives."""
        return min(self.latest, max(arriving)) - max(self.earliest, min(leaving))


def haste(made: Change, times: Times) -> Haste | None:
    """Return how pressed a change is, or None if nothing has to move in time.

    A finger that lays itself down to a barre stops what lies under it, so it cannot before the last
    of the others may leave.
    """
    freed, needed = times.freed, times.needed
    start = freed.get("", min(freed.values(), default=0.0))
    last = max(freed.values(), default=0.0)
    moving = [move for move in made.moves if move.moves and move.finger in needed]
    if not moving:
        return None
    leaves = {move.finger: freed.get(move.finger, start) for move in moving}
    pressed: list[Haste] = []
    for move in moving:
        free = last if move.forms_barre else leaves[move.finger]
        there = needed[move.finger] - free
        pressed.append(_haste(move.finger, move.time, there, alone=not move.forms_barre))
    if len(moving) > 1:
        window = times.window(leaves.values(), (needed[finger] for finger in leaves))
        pressed.append(_haste("", made.time, window))
    elif made.groups > 1 or made.turning:
        pressed.append(_haste("", made.time, times.share))
    return max(pressed, key=lambda one: one.pressure)


def _haste(finger: str, needed: float, available: float, alone: bool = False) -> Haste:
    ratio = needed / available if available > 1e-9 else float("inf")
    return Haste(ratio, finger, needed, available, alone)
