"""The picking hand: which finger plays which strings."""

from __future__ import annotations

from typing import Literal

from fretloom.values import frozen

PickingFinger = Literal["p", "i", "m", "a", "c"]
PICKING_FINGERS: tuple[PickingFinger, ...] = ("p", "i", "m", "a", "c")


@frozen
class PickingPlan:
    """The home strings of each picking finger, `homes[finger]`, the first being its usual one.

    For the thumb the strings are those it may play, lowest-sounding use first as written.
    """

    homes: tuple[tuple[str, tuple[int, ...]], ...]

    def strings_of(self, finger: str) -> tuple[int, ...]:
        """Return the strings a finger plays; empty if the plan does not name the finger."""
        return dict(self.homes).get(finger, ())


def usual_plan(strings: int) -> PickingPlan:
    """Return the common convention: a on 1, m on 2, i on 3, the thumb on all lower strings.

    On three strings the thumb plays 3, i plays 2 and m plays 1 (common practice, no source).
    """
    if strings <= 3:
        return PickingPlan((("p", (3,)), ("i", (2,)), ("m", (1,))))
    thumb = tuple(range(strings, 3, -1))
    return PickingPlan((("p", thumb), ("i", (3,)), ("m", (2,)), ("a", (1,))))
