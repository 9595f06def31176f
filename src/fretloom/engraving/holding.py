"""Which notes of a hand go into its voice, and which into a second one, because they are held across others.

A note that its pluck holds for a time is written so long. Where other notes of its hand begin
meanwhile, it needs a voice beside theirs; each hand gets one more at most.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from attrs import evolve

from fretloom.engraving.heads import Head, PluckHeads
from fretloom.values import frozen


@frozen
class Shared:
    """The plucks of a hand, shared between its voice and a second one.

    `rests` are the places in the voice where notes end before others begin, `lost` the notes that are
    not written as long as they are held.
    """

    voice: tuple[PluckHeads, ...]
    beside: tuple[PluckHeads, ...] = ()
    rests: frozenset[Fraction] = frozenset()
    lost: tuple[PluckHeads, ...] = ()


def share(plucks: Sequence[PluckHeads], marks: Iterable[Fraction], length: Fraction) -> Shared:
    """Share the plucks of one hand in a bar, in order of onset.

    Args:
        marks: where the bar's voices have a rest or an edge anyway. length: of the bar.
    """
    if all(one.until is None for one in plucks):
        return Shared(tuple(plucks))
    edges = sorted({at for one in plucks for at, _ in one.heads} | {*marks, length})
    voice, beside = list(plucks), list[PluckHeads]()
    rests, lost = set[Fraction](), list[PluckHeads]()
    for one in plucks:
        if one.until is None:
            continue
        end, room = min(one.until, length), next(edge for edge in edges if edge > one.last)
        if end == room or end <= one.last:
            continue
        if end < room and _agree(one, voice):
            rests.add(end)
        elif not one.damped and _fits(one, end, beside, length):
            voice.remove(one)
            beside.append(one)
        elif not one.damped:
            lost.append(one)
    gone = {chain_of(one) for one in lost}
    voice = [_cut(one) if chain_of(one) in gone else one for one in voice]
    return Shared(tuple(voice), tuple(beside), frozenset(rests), tuple(lost))


def chain_of(one: PluckHeads) -> int:
    """Return what tells the plucks of a bar apart."""
    return one.heads[0][1].chain


def _agree(one: PluckHeads, voice: Sequence[PluckHeads]) -> bool:
    """Whether all heads with which the last one of a pluck stands are to end where it does."""
    at_once = [other for other in voice if any(at == one.last for at, _ in other.heads)]
    return all((other.last, other.until) == (one.last, one.until) for other in at_once)


def _fits(one: PluckHeads, end: Fraction, beside: Sequence[PluckHeads], length: Fraction) -> bool:
    """Whether a pluck finds room beside those that are there: after them, or together with them."""
    if not beside:
        return True
    other = beside[-1]
    assert other.until is not None
    if one.begin >= min(other.until, length):
        return True
    same = [at for at, _ in other.heads] == [at for at, _ in one.heads]
    return same and min(other.until, length) == end


def _cut(one: PluckHeads) -> PluckHeads:
    """Return a pluck whose note ends with its place, so that nothing of it goes on into the next bar."""
    at, head = one.heads[-1]
    return evolve(one, heads=(*one.heads[:-1], (at, evolve(head, until=None))), until=None)


def going_on(one: PluckHeads, length: Fraction) -> PluckHeads:
    """Return a pluck with its last head tied over the bar line if it is held beyond it."""
    if one.until is None or one.until <= length:
        return one
    at, head = one.heads[-1]
    return evolve(one, heads=(*one.heads[:-1], (at, evolve(head, tied_on=True))))


def carried(heads: Sequence[tuple[bool, Head]]) -> tuple[list[PluckHeads], bool]:
    """Return what goes on from the bar before, by hands, and whether some of it has to end earlier.

    All notes that one hand holds over a bar line are written equally long: as the shortest.
    """
    ends: dict[bool, Fraction] = {}
    for thumb, head in heads:
        ends[thumb] = min(ends.get(thumb, head.end), head.end)
    found = [
        PluckHeads(thumb, ((Fraction(0), evolve(head, until=ends[thumb])),), (), ends[thumb])
        for thumb, head in heads
    ]
    return found, any(head.end != ends[thumb] for thumb, head in heads)
