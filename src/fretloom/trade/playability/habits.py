"""What teachers prefer besides: habits of fingering that printed voicings, one at a time, do not show.

The points are in units of the cost of a fingering, and assumptions; the habits are common practice,
without a source.
"""

from __future__ import annotations

from itertools import pairwise

from fretloom.trade.playability.shape import Fingers, Frets

#: Open chords that a student knows early, with the fingers that nearly every method gives them: what
#: is left when a finger of one is lifted keeps the others where they are.
_OPEN_CHORDS = (
    ("x32010", ".32.1."),
    ("x02210", "..231."),
    ("022100", ".231.."),
    ("xx0232", "...132"),
    ("xx0231", "...231"),
)
#: How much a part of such a chord is preferred.
_PART = 4.0
#: What the first two fingers cost that lie so many strings apart, the first on the bass side: they
#: spread across the neck and along it at once.
_SPLIT, _STRINGS_APART = 4.0, 4
#: What the little finger costs where the ring finger is free.
_SPARED = 2.0
#: What a finger costs that lies on the treble side of a higher one at the same fret.
_REVERSED = 6.0

_PLACES = tuple(
    frozenset(
        (len(frets) - at, int(fret), finger)
        for at, (fret, finger) in enumerate(zip(frets, fingers, strict=True))
        if finger != "."
    )
    for frets, fingers in _OPEN_CHORDS
)


def habit_cost(frets: Frets, fingers: Fingers) -> float:
    """Return what habits add to the cost of a fingering; negative where they speak for it."""
    count = len(frets)
    places = [
        (count - at, fret, finger)
        for at, (fret, finger) in enumerate(zip(frets, fingers, strict=True))
        if fret and finger
    ]
    cost = 0.0
    if places and count >= 6 and any(known.issuperset(places) for known in _PLACES):
        cost -= _PART
    used = {finger: string for string, _, finger in places}
    if {"1", "2"} <= used.keys() and used["1"] - used["2"] >= _STRINGS_APART:
        cost += _SPLIT
    where = {finger: (fret, string) for string, fret, finger in places}
    for one, other in pairwise(sorted(where)):
        if where[one][0] == where[other][0] and where[one][1] < where[other][1]:
            cost += _REVERSED
    if "4" in used and "3" not in used:
        cost += _SPARED
    return cost
