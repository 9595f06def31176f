"""Which finger takes a note that the voicing does not hold: `a@3`, or the 2 in `i3@0h2`.

A finger that already stops the place keeps it. Else a free finger goes there, or one whose strings
are not needed just then, or the one on that very string, if the hand as a whole still reaches.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.playability.moving.changes import change, hand_position
from fretloom.trade.playability.moving.skills import INTERMEDIATE
from fretloom.trade.playability.reach import Hand, maximum
from fretloom.trade.playability.shape import FRETTING, Fingers, Fretted, judge, refused
from fretloom.values import frozen

#: A finger that has to leave its place costs more than one that is free, in seconds.
LEAVING = 0.15
#: More still where other fingers have to lift so that the hand can get there.
LIFTING = 0.4


@frozen
class Taken:
    """A finger that can take a note.

    Args:
        finger: `1` to `4` or T. kind: "held" (it stops the place already), "free", or "leaves" (it
            goes from another place).
        cost: seconds of an intermediate player's movement, plus what leaving costs.
        left: the strings whose notes end because of it.
    """

    finger: str
    kind: str
    cost: float
    left: tuple[int, ...] = ()


def takers(
    neck: Neck,
    hand: Hand,
    voicing: Fretted,
    string: int,
    fret: int,
    wanted: frozenset[int] = frozenset(),
) -> tuple[Taken, ...]:
    """Return the fingers that can stop `string` at `fret` (from the capo, above 0), best first.

    `wanted` are the strings that have to go on sounding; a finger that stops one of them stays. The
    other fingers stay too if they can; if the note could not be taken like that, they are lifted.
    """
    return next(filter(None, stages(neck, hand, voicing, string, fret, wanted, wanted)), ())


@lru_cache(maxsize=4096)
def stages(
    neck: Neck,
    hand: Hand,
    voicing: Fretted,
    string: int,
    fret: int,
    wanted: frozenset[int],
    struck: frozenset[int],
) -> tuple[tuple[Taken, ...], ...]:
    """Return the fingers that can take a note, in stages that ask more and more of the voicing.

    First with the whole voicing held, then with only those fingers down that stop `wanted` strings,
    then with those that stop the strings of `struck`, plucked at the same time, provided the hand
    does not have to travel.
    """
    held = _there_already(neck, voicing, string, fret)
    if held or not neck.has(string, fret):
        return (held,)
    whole = _others(neck, hand, voicing, string, fret, wanted)
    ringing = _others(neck, hand, _only(voicing, wanted), string, fret, wanted)
    bare = _others(neck, hand, _only(voicing, struck), string, fret, struck)
    if not _near(neck, hand, voicing, neck.stopped(string, fret)):
        bare = iter(())
    return (
        _sorted(whole, 0.0),
        _sorted(ringing, LIFTING),
        _sorted(bare, 2 * LIFTING),
    )


def _sorted(found: Iterator[Taken], more: float) -> tuple[Taken, ...]:
    dearer = (
        Taken(one.finger, "leaves" if more else one.kind, one.cost + more, one.left)
        for one in found
    )
    return tuple(sorted(dearer, key=lambda one: (one.cost, one.finger)))


def _near(neck: Neck, hand: Hand, voicing: Fretted, fret: int) -> bool:
    """Whether a fret from the nut is within the hand's span of where it is."""
    position = hand_position(neck, voicing)
    if position is None:
        return True
    return neck.span(round(position), fret) <= maximum(hand, "1", "4")


def _there_already(neck: Neck, voicing: Fretted, string: int, fret: int) -> tuple[Taken, ...]:
    """Return the finger that stops the place already, if one does."""
    at = len(voicing.frets) - string
    own = voicing.fingers[at]
    if voicing.frets[at] == fret and own:
        return (Taken(own, "held", 0.0),)
    covering = _covering(neck, voicing, string, fret)
    return (Taken(covering, "held", 0.0),) if covering else ()


def _covering(neck: Neck, voicing: Fretted, string: int, fret: int) -> str:
    """Return the finger whose barre lies over the place, if nothing stops the string higher up."""
    count = len(voicing.frets)
    own = voicing.frets[count - string]
    if own is not None and own > fret:
        return ""
    for finger in FRETTING:
        held = [count - at for at, one in enumerate(voicing.fingers) if one == finger]
        if len(held) > 1 and held[0] > string > held[-1]:
            bass = count - held[0]
            there = voicing.frets[bass]
            place = neck.stopped(string, fret)
            if there and neck.stopped(held[0], there) == place:
                return finger
    return ""


def _others(
    neck: Neck, hand: Hand, voicing: Fretted, string: int, fret: int, wanted: frozenset[int]
) -> Iterator[Taken]:
    count = len(voicing.frets)
    for finger in FRETTING:
        held = tuple(count - at for at, one in enumerate(voicing.fingers) if one == finger)
        left = tuple(one for one in held if one != string)
        if any(one in wanted for one in left):
            continue
        after = with_note(voicing, string, fret, finger)
        if refused(judge(neck, hand, after.frets, after.fingers)):
            continue
        move = next(
            one for one in change(neck, voicing, after, INTERMEDIATE).moves if one.finger == finger
        )
        kind = "leaves" if held else "free"
        yield Taken(finger, kind, move.time + (LEAVING if left else 0.0), left)


def _only(voicing: Fretted, wanted: frozenset[int]) -> Fretted:
    """Return the voicing with only those fingers down that stop wanted strings."""
    count = len(voicing.frets)
    kept = {voicing.fingers[count - string] for string in wanted} - {None}
    down = [finger in kept for finger in voicing.fingers]
    return Fretted(
        tuple(fret if held else None for fret, held in zip(voicing.frets, down, strict=True)),
        tuple(finger if held else None for finger, held in zip(voicing.fingers, down, strict=True)),
    )


def with_note(voicing: Fretted, string: int, fret: int, finger: str) -> Fretted:
    """Return the voicing with a finger on another place; what it held before is not played."""
    count = len(voicing.frets)
    frets = list(voicing.frets)
    fingers: list[str | None] = list(voicing.fingers)
    for at, one in enumerate(fingers):
        if one == finger:
            frets[at], fingers[at] = None, None
    frets[count - string], fingers[count - string] = fret, finger
    new: Fingers = tuple(fingers)
    return Fretted(tuple(frets), new)
