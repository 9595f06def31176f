"""How pressed for time a change is: what each finger needs against what it has."""

from __future__ import annotations

from collections.abc import Mapping

from fretloom.trade.playability.moving.changes import Change
from fretloom.values import frozen


@frozen
class Haste:
    """How much a change is pressed for time.

    `ratio` is time needed by time there is: above 1 it cannot be done at this skill. `finger` is
    the one most pressed, "" when it is the whole hand. Times are in seconds; `available` may be
    negative when the finger is still sounding the voicing before.
    """

    ratio: float
    finger: str
    needed: float
    available: float


def haste(made: Change, freed: Mapping[str, float], needed: Mapping[str, float]) -> Haste | None:
    """Return how pressed a change is, or None if nothing has to move in time.

    `freed` says for each finger of the voicing before, in seconds, from when it may leave (and
    under "" when a finger not in use may start); `needed` when each finger of the new voicing has
    to be there. A finger missing from `needed` is never in a hurry. A finger that lays itself down
    to a barre stops what lies under it, so it cannot before the last of the others may leave.
    """
    start = freed.get("", min(freed.values(), default=0.0))
    last = max(freed.values(), default=0.0)
    pressed: list[Haste] = []
    leaves: list[float] = []
    for move in made.moves:
        if move.moves and move.finger in needed:
            leaves.append(freed.get(move.finger, start))
            free = last if move.forms_barre else leaves[-1]
            pressed.append(_haste(move.finger, move.time, needed[move.finger] - free))
    if not pressed:
        return None
    moving = [move.finger for move in made.moves if move.moves and move.finger in needed]
    window = max(needed[finger] for finger in moving) - min(leaves)
    return max((*pressed, _haste("", made.time, window)), key=lambda one: one.ratio)


def _haste(finger: str, needed: float, available: float) -> Haste:
    ratio = needed / available if available > 1e-9 else float("inf")
    return Haste(ratio, finger, needed, available)
