"""A hop worked out anew: the finger of another shape that can leave its place for the same degree."""

from __future__ import annotations

from collections.abc import Iterator
from typing import cast

from attrs import evolve

from fretloom.performance.events import Settings
from fretloom.performance.hands.fingering import hand_of_settings, neck_of_settings
from fretloom.performance.sounding.strings import fingered
from fretloom.trade.guitar.plucking import PickingPlan
from fretloom.trade.guitar.voicing import FrettingFinger, Hop, Voicing
from fretloom.trade.playability.literal import with_note
from fretloom.trade.playability.shape import Fretted, judge, refused
from fretloom.trade.playability.solver import fingerings

#: How far a finger hops: frets along the neck, and strings across it.
_FRETS, _STRINGS = 2, 2


def with_hops(
    old: Voicing, new: Voicing, steps: int, settings: Settings, plan: PickingPlan
) -> Voicing:
    """Return a new voicing, whose fingers are open, with hops for those of the old one.

    Fingers are given with them. Where a thumb string holds the degree of a hop, none is needed;
    where no finger reaches it, there is none either.
    """
    neck, hand = neck_of_settings(settings), hand_of_settings(settings)
    ways = fingerings(new.frets, neck, hand, limit=1)
    thumb = [one for one in plan.strings_of("p") if 1 <= one <= len(new.frets)]
    if not old.hops or not ways or len(old.frets) != settings.tuning.strings:
        return new
    fingered_new = evolve(new, fingers=ways[0].fingers)
    hops: dict[int, Hop] = {}
    for hop in old.hops:
        degree = (fingered(settings, hop.string, hop.fret) + steps) % 12
        if _holds(new, degree, thumb, settings):
            continue
        for found in _ways(fingered_new, degree, thumb, settings):
            held = Fretted(fingered_new.frets, fingered_new.fingers)
            after = with_note(held, found.string, found.fret, found.finger)
            if found.string not in hops and not refused(judge(neck, hand, *after)):
                hops[found.string] = found
                break
    if not hops:
        return new
    return evolve(fingered_new, hops=tuple(hops.values()), fingers_given=True)


def hops_missing(
    old: Voicing, new: Voicing, steps: int, settings: Settings, plan: PickingPlan
) -> tuple[Hop, ...]:
    """Return the hops of an old voicing whose degree the thumb does not reach in the new one."""
    thumb = [one for one in plan.strings_of("p") if 1 <= one <= len(new.frets)]
    reached = {fingered(settings, hop.string, hop.fret) % 12 for hop in new.hops}
    degrees = {hop: (fingered(settings, hop.string, hop.fret) + steps) % 12 for hop in old.hops}
    return tuple(
        hop
        for hop, degree in degrees.items()
        if degree not in reached and not _holds(new, degree, thumb, settings)
    )


def _holds(voicing: Voicing, degree: int, thumb: list[int], settings: Settings) -> bool:
    """Whether a thumb string sounds a degree, held or, where the voicing leaves it out, open."""
    return any(
        fingered(settings, string, voicing.fret(string) or 0) % 12 == degree for string in thumb
    )


def _ways(voicing: Voicing, degree: int, thumb: list[int], settings: Settings) -> Iterator[Hop]:
    """Yield the hops of single fingers to a thumb string, the shortest first."""
    found = []
    for string in thumb:
        for finger in dict.fromkeys(one for one in voicing.fingers if one):
            held = voicing.strings_of(finger)
            at = voicing.fret(held[0]) or 0
            if len(held) > 1 or string == held[0] or finger == "T":
                continue
            for fret in range(max(1, at - _FRETS), at + _FRETS + 1):
                far = abs(string - held[0])
                if fingered(settings, string, fret) % 12 == degree and far <= _STRINGS:
                    cost = 2 * abs(fret - at) + far + (held[0] not in thumb)
                    found.append((cost, Hop(cast("FrettingFinger", finger), string, fret)))
    yield from (hop for _, hop in sorted(found, key=lambda one: (one[0], one[1].string)))
