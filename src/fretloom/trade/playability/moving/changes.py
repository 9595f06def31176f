"""From one fingered voicing to the next: what every finger does, and how long the hand takes.

The figures are estimates (see `skills`), good for putting changes in order: which of two is harder,
and roughly by how much. What takes time: the longest movement of a finger; every further group of
fingers that moves in its own way; turning the hand back from a barre; and pressing what was put
down until it sounds, the more of it is new and the harder it is to hold.
"""

from __future__ import annotations

from functools import lru_cache
from math import hypot

from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.playability.effort import effort
from fretloom.trade.playability.moving.skills import (
    INTERMEDIATE,
    SLIDING,
    TARGET,
    Skill,
    movement_time,
)
from fretloom.trade.playability.reach import Hand
from fretloom.trade.playability.shape import THUMB, Fretted, Held, held_places
from fretloom.values import frozen

#: The least way of a finger that comes down from the air, and of one that lies down to a barre, mm.
LEAST_WAY, LAYING = 10.0, 5.0
#: An idle finger hovers so many frets to either side of its place without any effort.
HOVERING = 1
#: So many frets along its string a finger is guided by it; farther, the hand jumps and has to aim.
GUIDED = 5
#: A barre over more strings turns the wrist; a smaller one counts half, when it is left.
SMALL_BARRE, SMALL_TURN = 3, 0.5
#: Points of effort of a shape that need no time to settle: about those of two or three fingers.
EASY = 0.8

KINDS = ("anchor", "guide", "extend", "move", "place", "lift")


@frozen
class FingerMove:
    """What one finger does in a change.

    `kind` is one of `KINDS`: it stays, slides along its strings, lies down to more strings, is
    lifted and put elsewhere, is put down anew, or leaves. `distance` is in mm, `time` in seconds.
    """

    finger: str
    kind: str
    distance: float = 0.0
    time: float = 0.0
    before: Held | None = None
    after: Held | None = None

    @property
    def moves(self) -> bool:
        """Whether it takes any time."""
        return self.kind not in ("anchor", "lift")

    @property
    def forms_barre(self) -> bool:
        """Whether the finger lays itself down over more strings than it held."""
        return (
            self.kind in ("extend", "move", "place")
            and self.after is not None
            and len(self.after.strings) > 1
            and not (self.before and len(self.before.strings) >= len(self.after.strings))
        )


@frozen
class Change:
    """A change from one voicing to another.

    Args:
        moves: for each finger used in either, in the order T 1 2 3 4.
        groups: how many groups of fingers move; those that move by the same frets and strings
            move as a block and are one.
        time: seconds for the whole change.
        barre: whether a barre has to be formed.
        travel: how far the hand shifts along the neck, mm.
        turning: seconds of `time` in which the hand turns back from a barre; settling: those in
            which it presses the new shape.
    """

    moves: tuple[FingerMove, ...]
    groups: int
    time: float
    barre: bool
    travel: float
    turning: float = 0.0
    settling: float = 0.0

    def of_kind(self, kind: str) -> tuple[str, ...]:
        """Return the fingers that move in one way."""
        return tuple(move.finger for move in self.moves if move.kind == kind)


def hand_position(neck: Neck, voicing: Fretted) -> float | None:
    """Return the fret from the nut at which finger 1 would lie; None when nothing is fretted."""
    places = [
        max(neck.first, held.fret - int(held.finger) + 1)
        for held in held_places(neck, *voicing)
        if held.finger != THUMB
    ]
    return sum(places) / len(places) if places else None


@lru_cache(maxsize=8192)
def change(neck: Neck, before: Fretted, after: Fretted, skill: Skill = INTERMEDIATE) -> Change:
    """Return what the fretting hand does between two voicings whose fingers are known."""
    old = {held.finger: held for held in held_places(neck, *before)}
    new = {held.finger: held for held in held_places(neck, *after)}
    start, goal = hand_position(neck, before), hand_position(neck, after)
    moves = tuple(
        _move(neck, old.get(finger), new.get(finger), start if start is not None else goal, skill)
        for finger in (THUMB, "1", "2", "3", "4")
        if finger in old or finger in new
    )
    groups = _groups(moves)
    slowest = max((move.time for move in moves), default=0.0)
    turning = skill.turning * sum(_turn(held, new.get(held.finger)) for held in old.values())
    settling = _settling(neck, after, moves, skill)
    travel = 0.0
    if start is not None and goal is not None:
        travel = abs(_along(neck, goal) - _along(neck, start))
    return Change(
        moves,
        groups,
        slowest + max(0, groups - 1) * skill.serial + turning + settling,
        any(move.forms_barre for move in moves),
        travel,
        turning,
        settling,
    )


def _turn(old: Held, new: Held | None) -> float:
    """Return how far the hand turns back from a finger's barre: 0 if it keeps one."""
    if len(old.strings) < 2 or (new is not None and len(new.strings) > 1):
        return 0.0
    return 1.0 if old.strings[0] - old.strings[-1] >= SMALL_BARRE else SMALL_TURN


def _settling(neck: Neck, after: Fretted, moves: tuple[FingerMove, ...], skill: Skill) -> float:
    """Return the seconds of pressing the new shape: for so much of it as is put down anew."""
    down = [move for move in moves if move.after is not None]
    fresh = sum(move.moves for move in down)
    if not fresh:
        return 0.0
    beyond = max(0.0, effort(neck, Hand(), after).points - EASY)
    return skill.settling * beyond * fresh / len(down)


def _move(
    neck: Neck, old: Held | None, new: Held | None, position: float | None, skill: Skill
) -> FingerMove:
    if new is None:
        assert old is not None
        return FingerMove(old.finger, "lift", before=old)
    if old is None:
        way = max(LEAST_WAY, _way_from_air(neck, new, position))
        return _timed(FingerMove(new.finger, "place", way, 0.0, None, new), TARGET, skill)
    if (
        old.fret == new.fret
        and old.strings[0] >= new.strings[0] >= new.strings[-1] >= old.strings[-1]
    ):
        return FingerMove(new.finger, "anchor", before=old, after=new)
    if old.strings == new.strings:
        way = neck.span(old.fret, new.fret)
        near = abs(new.fret - old.fret) <= GUIDED
        width = max(TARGET, neck.span(new.fret - 1, new.fret) / 2) if near else TARGET
        eased = SLIDING if near else 1.0
        return _timed(FingerMove(new.finger, "guide", way, 0.0, old, new), width, skill, eased)
    if old.fret == new.fret and set(old.strings) < set(new.strings):
        way = LAYING + abs(_middle(neck, new) - _middle(neck, old))
        return _timed(FingerMove(new.finger, "extend", way, 0.0, old, new), TARGET, skill)
    way = hypot(neck.span(old.fret, new.fret), _middle(neck, new) - _middle(neck, old))
    return _timed(FingerMove(new.finger, "move", way, 0.0, old, new), TARGET, skill)


def _timed(move: FingerMove, width: float, skill: Skill, eased: float = 1.0) -> FingerMove:
    time = movement_time(move.distance, width, skill) * eased
    if move.forms_barre:
        time += skill.barre
    return FingerMove(move.finger, move.kind, move.distance, time, move.before, move.after)


def _groups(moves: tuple[FingerMove, ...]) -> int:
    """Count the groups of moving fingers; those that shift alike are one."""
    shifts: set[tuple[int, int] | str] = set()
    for move in moves:
        if not move.moves:
            continue
        if move.before and move.after and move.kind in ("guide", "move"):
            strings = move.after.strings[0] - move.before.strings[0]
            shifts.add((move.after.fret - move.before.fret, strings))
        else:
            shifts.add(move.finger)
    return len(shifts)


def _along(neck: Neck, fret: float) -> float:
    """Return the distance from the nut of a place between frets, in mm."""
    return neck.scale * (1 - 2 ** (-fret / 12))


def _way_from_air(neck: Neck, new: Held, position: float | None) -> float:
    """Return how far along the neck a free finger has to go to its new place, in mm."""
    if position is None or new.finger == THUMB:
        return 0.0
    way = abs(neck.distance(new.fret) - _along(neck, position + int(new.finger) - 1))
    return max(0.0, way - HOVERING * neck.span(new.fret - 1, new.fret))


def _middle(neck: Neck, held: Held) -> float:
    ends = (held.strings[0], held.strings[-1])
    return sum(neck.across(string, held.fret) for string in ends) / 2
