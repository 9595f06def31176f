"""How quick a hand is: movements after Fitts, and what a level of skill adds to them.

The time of one movement follows Fitts 1954 (J. Exp. Psychol. 47): `b * log2(2D/W)` for a distance D
to a target of width W. We do not know of measured times of chord changes: b is taken from other
movements of fingers and hands, and the rest is assumption, set so that changes come in the order
that teachers give them (`tests/data/changes.toml`).
"""

from __future__ import annotations

from math import log2

from fretloom.values import frozen


@frozen(cache_hash=True)
class Skill:
    """How quick a hand is. All times but `per_bit` are assumptions.

    Args:
        name: the level of a lesson.
        per_bit: seconds for one bit of difficulty of a movement.
        serial: seconds more for each further group of fingers.
        barre: for forming a barre; turning: for turning the hand back from one.
        settling: for pressing a new shape until it sounds, for each point of effort beyond what
            an easy one takes.
    """

    name: str
    per_bit: float
    serial: float
    barre: float
    turning: float
    settling: float


#: per_bit: 1/4.5 thumb against index (Balakrishnan & MacKenzie 1997), 1/6.95 finger touch
#: (MacKenzie 2015), 1/10 hand with a stylus (Fitts 1954, from memory).
BEGINNER = Skill("beginner", 0.222, 0.18, 0.25, 0.60, 0.40)
INTERMEDIATE = Skill("intermediate", 0.144, 0.10, 0.10, 0.35, 0.20)
ADVANCED = Skill("advanced", 0.100, 0.03, 0.04, 0.10, 0.05)
SKILLS = {skill.name: skill for skill in (BEGINNER, INTERMEDIATE, ADVANCED)}

#: Width of a target across the strings, mm: about their distance.
TARGET = 8.0
#: A guide finger slides on its string and needs not aim across it.
SLIDING = 0.7
#: Longest time in seconds of each level of difficulty 1 to 4, for an intermediate player.
LEVELS = (0.30, 0.60, 0.90, 1.20)


def level_of(time: float) -> int:
    """Return the difficulty, 1 to 5, of a change that takes an intermediate player `time` seconds."""
    return 1 + sum(time > limit + 1e-9 for limit in LEVELS)


def movement_time(distance: float, width: float, skill: Skill) -> float:
    """Return the seconds of a movement, at least those of half a bit (Fitts 1954)."""
    bits = log2(2 * distance / width) if distance > 0 else 0.0
    return skill.per_bit * max(0.5, bits)
