"""Measures as they stand on the page: the bars of the performance that each is, and the signs of the form around it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from fretloom.values import frozen


@frozen(kw_only=True)
class Folded:
    """One measure of the page.

    Args:
        plays: the bars that it is, by their places in the performance, in order.
        forward: a repeat begins. times: a repeat without endings ends, which is played so often in
            all; 0 for none.
        ending: for which times the ending is that it belongs to, () for none. opens, closes: it is
            the ending's first measure, its last. back: the way goes back from there.
        segno, coda: these signs stand at its start.
        to_coda, fine: the way leaves there, or ends, after a jump.
        jump: where the way goes back to the start ("D.C.") or to the sign ("D.S.") at its end.
        jumps: the time at which it does, from 1.
        after_jump: its repeat is played after a jump as well.
    """

    plays: tuple[int, ...]
    forward: bool = False
    times: int = 0
    ending: tuple[int, ...] = ()
    opens: bool = False
    closes: bool = False
    back: bool = False
    segno: bool = False
    coda: bool = False
    to_coda: bool = False
    fine: bool = False
    jump: Literal["", "D.C.", "D.S."] = ""
    jumps: int = 0
    after_jump: bool = False

    @property
    def repeats(self) -> bool:
        """Whether a repeat sign that goes back stands at its end."""
        return self.back or self.times > 0


def words_of_jump(measures: Sequence[Folded]) -> str:
    """Return what stands where the way goes back: `D.S. al Coda`; "" where it never does."""
    jump = next((one.jump for one in measures if one.jump), "")
    if any(one.coda for one in measures):
        jump += " al Coda"
    elif any(one.fine for one in measures):
        jump += " al Fine"
    return f"{jump} with repeats" if any(one.after_jump for one in measures) else jump


@frozen
class Region:
    """A repeat: its first and last measure, how often it is played, and whether so after a jump as well."""

    first: int
    last: int
    times: int
    after_jump: bool


def regions(measures: Sequence[Folded]) -> list[Region | None]:
    """Return for each measure the repeat that it stands in."""
    found: list[Region | None] = [None] * len(measures)
    first, times, again = 0, 0, False
    for place, one in enumerate(measures):
        if one.forward:
            first, times, again = place, 0, False
        times, again = max(times, one.times, *one.ending), again or one.after_jump
        if one.times or (one.closes and not _other_ending(measures, place + 1)):
            region = Region(first, place, times, again)
            found[first : place + 1] = [region] * (place + 1 - first)
    return found


def _other_ending(measures: Sequence[Folded], place: int) -> bool:
    """Whether a further ending of the same repeat follows."""
    return place < len(measures) and measures[place].opens


def order_of(measures: Sequence[Folded], most: int) -> list[int]:
    """Return the places of measures in the order in which they are played, `most` of them at most.

    After a jump a repeat is left out, with all its endings but the last, unless it says otherwise.
    """
    repeats = regions(measures)
    segno = next((place for place, one in enumerate(measures) if one.segno), 0)
    coda = next((place for place, one in enumerate(measures) if one.coda), len(measures))
    found: list[int] = []
    at, time, jumped = 0, 1, False
    while at < len(measures) and len(found) < most:
        one, region = measures[at], repeats[at]
        if region is None:
            time = 1
        elif jumped and not region.after_jump:
            time = region.times
        if one.opens and time not in one.ending:
            at += 1
            while at < len(measures) and not measures[at].opens:
                at += 1
            continue
        found.append(at)
        if jumped and one.fine:
            break
        if region is not None and one.repeats and time < region.times:
            at, time = region.first, time + 1
        elif jumped and one.to_coda:
            at = coda
        elif one.jump and not jumped:
            at, time, jumped = segno, 1, True
        else:
            ended = region is not None and at == region.last
            at, time = at + 1, 1 if ended else time
    return found


def proved(measures: Sequence[Folded], bars: int) -> bool:
    """Whether measures are played in the order of the performance, each of its bars once."""
    order = order_of(measures, bars + 1)
    if len(order) != bars:
        return False
    comes = [0] * len(measures)
    for place, measure in enumerate(order):
        plays = measures[measure].plays
        if comes[measure] >= len(plays) or plays[comes[measure]] != place:
            return False
        comes[measure] += 1
    return True
