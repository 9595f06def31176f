"""What teachers prefer besides: habits of fingering that printed voicings, one at a time, do not show.

The points are in units of the cost of a fingering, and assumptions; the habits are common practice,
without a source.
"""

from __future__ import annotations

from itertools import pairwise

from fretloom.trade.playability.shape import Fingers, Frets

#: Open chords that a student knows early, with the fingers that methods give them: what is left when
#: a finger of the first ones is lifted keeps the others where they are.
_ROOTED = {
    "x32010": (".32.1.",),
    "x02210": ("..231.",),
    "022100": (".231..",),
    "xx0232": ("...132",),
    "xx0231": ("...231",),
}
_USUAL = _ROOTED | {
    "320003": ("21...3", "32...4", "21...4"),
    "320033": ("21..34",),
    "320001": ("32...1",),
    "x02220": ("..123.", "..234."),
    "x02020": ("..2.3.", "..1.2."),
    "022000": (".23...", ".12..."),
    "020100": (".2.1..",),
    "x32310": (".3241.",),
    "x21202": (".213.4",),
    "xx0212": ("...213",),
    "xx0211": ("...211",),
    "xx0233": ("...123", "...134"),
    "x02230": ("..123.", "..124."),
    "x32033": (".21.34",),
    "022033": (".12.34", ".23.44"),
    "xx3211": ("..3211",),
    "133211": ("134211",),
    "x24432": (".13421",),
    "200232": ("1..243", "2..143", "T..132"),
}
#: How much a part of a rooted chord is preferred, and what other fingers for a usual one cost.
_PART, _UNUSUAL = 4.0, 8.0
#: What the first two fingers cost that lie so many strings apart, the first on the bass side: they
#: spread across the neck and along it at once.
_SPLIT, _STRINGS_APART = 4.0, 4
#: What the little finger costs where the ring finger is free.
_SPARED = 2.0
#: The strings that such chords are written for.
_STRINGS = 6
#: What a finger costs that lies on the treble side of a higher one at the same fret.
_REVERSED = 6.0


def _places(frets: str, fingers: str) -> frozenset[tuple[int, int, str]]:
    pairs = enumerate(zip(frets, fingers, strict=True))
    return frozenset(
        (len(frets) - at, int(fret), finger) for at, (fret, finger) in pairs if finger != "."
    )


_PARTS = tuple(_places(frets, fingers) for frets, ways in _ROOTED.items() for fingers in ways)


def habit_cost(frets: Frets, fingers: Fingers) -> float:
    """Return what habits add to the cost of a fingering; negative where they speak for it."""
    count = len(frets)
    places = [
        (count - at, fret, finger)
        for at, (fret, finger) in enumerate(zip(frets, fingers, strict=True))
        if fret and finger
    ]
    cost = 0.0
    if places and count >= _STRINGS and any(known.issuperset(places) for known in _PARTS):
        cost -= _PART
    ways = _USUAL.get("".join("x" if fret is None else str(fret) for fret in frets[-_STRINGS:]))
    if ways and "".join(finger or "." for finger in fingers[-_STRINGS:]) not in ways:
        cost += _UNUSUAL
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
