"""From one fingered voicing to the next: what every finger does, and how long the hand takes.

The time of one movement follows Fitts 1954 (J. Exp. Psychol. 47): `b * log2(2D/W)` for a distance D
to a target of width W. We do not know of measured times of chord changes: b is taken from other
movements of fingers and hands, and the rest is assumption. The figures are good for putting changes
in order: which of two is harder, and roughly by how much.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from math import hypot, log2

from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.playability.shape import THUMB, Fretted, Held, held_places
from fretloom.values import frozen


@frozen(cache_hash=True)
class Skill:
    """How quick a hand is.

    Args:
        name: the level of a lesson.
        per_bit: seconds for one bit of difficulty of a movement.
        serial: seconds more for each further group of fingers; barre: for forming a barre (both
            assumptions).
    """

    name: str
    per_bit: float
    serial: float
    barre: float


#: per_bit: 1/4.5 thumb against index (Balakrishnan & MacKenzie 1997), 1/6.95 finger touch
#: (MacKenzie 2015), 1/10 hand with a stylus (Fitts 1954, from memory).
BEGINNER = Skill("beginner", 0.222, 0.15, 0.25)
INTERMEDIATE = Skill("intermediate", 0.144, 0.06, 0.10)
ADVANCED = Skill("advanced", 0.100, 0.02, 0.04)
SKILLS = {skill.name: skill for skill in (BEGINNER, INTERMEDIATE, ADVANCED)}

#: Width of a target across the strings, mm: about their distance.
TARGET = 8.0
#: A guide finger slides on its string and needs not aim across it.
SLIDING = 0.7
#: The least way of a finger that comes down from the air, and of one that lies down to a barre, mm.
LEAST_WAY, LAYING = 10.0, 5.0
#: Longest time in seconds of each level of difficulty 1 to 4, for an intermediate player.
LEVELS = (0.20, 0.35, 0.55, 0.75)

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
    """

    moves: tuple[FingerMove, ...]
    groups: int
    time: float
    barre: bool
    travel: float

    def of_kind(self, kind: str) -> tuple[str, ...]:
        """Return the fingers that move in one way."""
        return tuple(move.finger for move in self.moves if move.kind == kind)


def level_of(time: float) -> int:
    """Return the difficulty, 1 to 5, of a change that takes an intermediate player `time` seconds."""
    return 1 + sum(time > limit + 1e-9 for limit in LEVELS)


def movement_time(distance: float, width: float, skill: Skill) -> float:
    """Return the seconds of a movement, at least those of half a bit (Fitts 1954)."""
    bits = log2(2 * distance / width) if distance > 0 else 0.0
    return skill.per_bit * max(0.5, bits)


def hand_position(neck: Neck, voicing: Fretted) -> float | None:
    """Return the fret from the nut at which finger 1 would lie; None when nothing is fretted."""
    lowest = 1 + (0 if neck.capo.strings else neck.capo.fret)
    places = [
        max(lowest, held.fret - int(held.finger) + 1)
        for held in held_places(neck, *voicing)
        if held.finger != THUMB
    ]
    return sum(places) / len(places) if places else None


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
    to be there. A finger missing from `needed` is never in a hurry.
    """
    start = freed.get("", min(freed.values(), default=0.0))
    pressed = [
        _haste(move.finger, move.time, needed[move.finger] - freed.get(move.finger, start))
        for move in made.moves
        if move.moves and move.finger in needed
    ]
    if not pressed:
        return None
    moving = [move.finger for move in made.moves if move.moves and move.finger in needed]
    window = max(needed[finger] for finger in moving) - min(
        freed.get(finger, start) for finger in moving
    )
    return max((*pressed, _haste("", made.time, window)), key=lambda one: one.ratio)


def _haste(finger: str, needed: float, available: float) -> Haste:
    ratio = needed / available if available > 1e-9 else float("inf")
    return Haste(ratio, finger, needed, available)


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
    travel = 0.0
    if start is not None and goal is not None:
        travel = abs(_along(neck, goal) - _along(neck, start))
    return Change(
        moves,
        groups,
        slowest + max(0, groups - 1) * skill.serial,
        any(_forms_barre(move) for move in moves),
        travel,
    )


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
        width = max(TARGET, neck.span(new.fret - 1, new.fret) / 2)
        return _timed(FingerMove(new.finger, "guide", way, 0.0, old, new), width, skill)
    if old.fret == new.fret and set(old.strings) < set(new.strings):
        way = LAYING + abs(_middle(neck, new) - _middle(neck, old))
        return _timed(FingerMove(new.finger, "extend", way, 0.0, old, new), TARGET, skill)
    way = hypot(neck.span(old.fret, new.fret), _middle(neck, new) - _middle(neck, old))
    return _timed(FingerMove(new.finger, "move", way, 0.0, old, new), TARGET, skill)


def _timed(move: FingerMove, width: float, skill: Skill) -> FingerMove:
    time = movement_time(move.distance, width, skill)
    if move.kind == "guide":
        time *= SLIDING
    if _forms_barre(move):
        time += skill.barre
    return FingerMove(move.finger, move.kind, move.distance, time, move.before, move.after)


def _forms_barre(move: FingerMove) -> bool:
    return (
        move.kind in ("extend", "move", "place")
        and move.after is not None
        and len(move.after.strings) > 1
        and not (move.before and len(move.before.strings) >= len(move.after.strings))
    )


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
    """Return how far along the neck a free finger hovers from its new place."""
    if position is None or new.finger == THUMB:
        return 0.0
    return abs(neck.distance(new.fret) - _along(neck, position + int(new.finger) - 1))


def _middle(neck: Neck, held: Held) -> float:
    ends = (held.strings[0], held.strings[-1])
    return sum(neck.across(string, held.fret) for string in ends) / 2
