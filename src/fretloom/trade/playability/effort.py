"""How hard a voicing is to hold, by what makes it so.

The points are an assumption, made to give the order that teachers give: open chords of two or
three fingers first, then small barres, then whole ones, then wide stretches.
"""

from __future__ import annotations

from itertools import combinations

from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.playability.reach import Hand, apart, maximum
from fretloom.trade.playability.shape import THUMB, Fretted, Held, held_places
from fretloom.values import frozen

#: Points for each finger, for a barre of the index finger over up to three strings and over more,
#: for one of another finger, and for the thumb over the neck.
_FINGER, _SMALL_BARRE, _BARRE, _OTHER_BARRE, _THUMB = 0.4, 0.6, 1.6, 1.0, 0.8
#: Points for a stretch at the limit of reach; below this part of the limit there are none.
_STRETCH, _EASY = 2.5, 0.55
#: A string stopped close to the nut has to be pressed harder.
_NEAR_NUT = 0.3
_LEVELS = (1.3, 2.1, 3.0, 4.0)


@frozen
class Effort:
    """What it takes to hold a voicing.

    Args:
        points: more is harder; level: 1 to 5.
        fingers: how many are used, the thumb included.
        barres: fingers that hold several strings, with how many strings lie under each.
        widest: the pair of fingers nearest to its limit, its distance and the limit in mm; an
            empty pair with fewer than two fingers.
    """

    points: float
    level: int
    fingers: int
    barres: tuple[tuple[str, int], ...]
    widest: tuple[str, ...]
    distance: float
    limit: float


def effort(neck: Neck, hand: Hand, voicing: Fretted) -> Effort:
    """Return what it takes to hold a voicing whose fingers are known."""
    places = held_places(neck, *voicing)
    barres = tuple((held.finger, _width(held)) for held in places if len(held.strings) > 1)
    widest, distance, limit = _widest(neck, hand, places)
    points = len(places) * _FINGER + sum(_barre(finger, width) for finger, width in barres)
    points += _THUMB * any(held.finger == THUMB for held in places)
    if limit:
        points += _STRETCH * max(0.0, distance / limit - _EASY) / (1 - _EASY)
    if barres and min(held.fret for held in places) == 1:
        points += _NEAR_NUT
    level = 1 + sum(points > limit for limit in _LEVELS)
    return Effort(points, level, len(places), barres, widest, distance, limit)


def _width(held: Held) -> int:
    return held.strings[0] - held.strings[-1] + 1


def _barre(finger: str, width: int) -> float:
    if finger == "1":
        return _SMALL_BARRE if width <= 3 else _BARRE
    return _OTHER_BARRE


def _widest(
    neck: Neck, hand: Hand, places: tuple[Held, ...]
) -> tuple[tuple[str, ...], float, float]:
    pairs = [
        (
            (one.finger, other.finger),
            apart(neck, one.finger, one.contact, other.finger, other.contact),
        )
        for one, other in combinations(places, 2)
        if one.finger != THUMB
    ]
    if not pairs:
        return (), 0.0, 0.0
    pair, distance = max(pairs, key=lambda found: found[1] / maximum(hand, *found[0]))
    return pair, distance, maximum(hand, *pair)
