"""A shape as a teacher says it: the fingers from the nut on, what is open, and what the thumb plays."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fretloom.engraving.drawn.diagrams.board import on_neck
from fretloom.formats.students.telling.listener import (
    Listener,
    counts_words,
    listed_clearly,
    sentence,
)
from fretloom.performance.showing.shape_use import ShapeUse
from fretloom.performance.showing.taken_shapes import TakenShape
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.phrases.table import say

_THUMB = "T"
#: So many counts of the thumb are said in all, and only if each has one string; else only its strings are.
_MOST_COUNTS = 8


def shape_sentences(taken: TakenShape, listener: Listener) -> tuple[str, ...]:
    """Say a shape, a sentence a string: where the fingers are, what is open, what the song plucks of it."""
    voicing, use = taken.voicing, taken.use
    said = [
        *_fingers(voicing, listener),
        *_open(voicing, listener),
        *_quiet(voicing, use, listener),
    ]
    said += [*_hops(voicing, use, listener), *_thumb(use, listener)]
    return tuple(sentence(one) for one in said)


def _fingers(voicing: Voicing, listener: Listener) -> Iterator[str]:
    """Yield in one sentence who stands where, from the nut on; fingers in one fret together."""
    neck = on_neck(voicing, listener.capo)
    frets = sorted({fret for fret in neck.frets if fret})
    parts = [part for fret in frets for part in _at_fret(voicing, neck, fret, listener)]
    if parts:
        yield "; ".join(parts)
    elif all(fret == 0 for fret in voicing.frets):
        yield say("shapes.all-open")
    else:
        yield say("shapes.no-finger")


def _at_fret(voicing: Voicing, neck: Voicing, fret: int, listener: Listener) -> Iterator[str]:
    """Yield who is at a fret of the neck; it is named as it is counted on the strings."""
    barres = [one for one in neck.barres if one.fret == fret]
    for barre in barres:
        yield say(
            "shapes.barre",
            fingers=listener.finger(barre.finger),
            strings=listener.span(barre.first, barre.last),
            fret=listener.fret_of(voicing, _held(neck, barre.finger, fret)),
        )
    under = {barre.finger for barre in barres}
    strings = [one for one in range(len(neck.frets), 0, -1) if neck.fret(one) == fret]
    alone = {voicing.finger(one): one for one in strings if voicing.finger(one) not in under}
    if (over := alone.pop(_THUMB, None)) is not None:
        yield say("shapes.thumb", place=listener.place(over, voicing.fret(over) or 0))
    if None in alone:
        bare = [one for one in strings if voicing.finger(one) is None]
        for group in _counted_alike(voicing, bare):
            at = voicing.fret(group[0])
            yield say("shapes.unknown", strings=listener.strings(group), fret=at)
    fingers = sorted(finger for finger in alone if finger is not None)
    for group in _counted_alike(voicing, [alone[finger] for finger in fingers]):
        at = voicing.fret(group[0]) or 0
        those = [finger for finger in fingers if alone[finger] in group]
        if len(those) == 1:
            place = listener.place(group[0], at)
            yield say("shapes.one", fingers=listener.finger(those[0]), place=place)
        else:
            where = listener.strings(group)
            yield say("shapes.more", fingers=listener.fingers(those), strings=where, fret=at)


def _held(neck: Voicing, finger: str, fret: int) -> list[int]:
    """Return the strings that a finger stops at a fret of the neck, the lowest first."""
    return [one for one in neck.strings_of(finger) if neck.fret(one) == fret]


def _counted_alike(voicing: Voicing, strings: Sequence[int]) -> list[list[int]]:
    """Return strings in groups of those on which a place has one number: all, but under a partial capo."""
    groups: dict[int | None, list[int]] = {}
    for string in strings:
        groups.setdefault(voicing.fret(string), []).append(string)
    return list(groups.values())


def _open(voicing: Voicing, listener: Listener) -> Iterator[str]:
    strings = range(len(voicing.frets), 0, -1)
    hopped = {hop.string for hop in voicing.hops}
    rings = [one for one in strings if voicing.fret(one) == 0]
    silent = [one for one in strings if voicing.fret(one) is None and one not in hopped]
    if rings and len(rings) < len(voicing.frets):
        yield _of("shapes.open", rings, listener)
    if silent:
        yield _of("shapes.not-played", silent, listener)


def _quiet(voicing: Voicing, use: ShapeUse, listener: Listener) -> Iterator[str]:
    """Yield the strings that a finger holds and nobody plucks."""
    strings = range(len(voicing.frets), 0, -1)
    held = [one for one in strings if voicing.fret(one) and one not in use.plucked]
    if held:
        yield _of("shapes.quiet", held, listener)


def _hops(voicing: Voicing, use: ShapeUse, listener: Listener) -> Iterator[str]:
    counts = dict(use.hops)
    for hop in voicing.hops:
        names = {
            "fingers": listener.finger(hop.finger),
            "place": listener.place(hop.string, hop.fret),
        }
        when = counts.get(hop.string, ())
        if when:
            yield say("shapes.hop-when", counts=counts_words(when), **names)
        else:
            yield say("shapes.hop", **names)


def _thumb(use: ShapeUse, listener: Listener) -> Iterator[str]:
    if not use.thumb:
        return
    counted = [count for _, counts in use.thumb for count in counts]
    if len(counted) > _MOST_COUNTS or len(set(counted)) < len(counted):
        strings = [string for string, _ in use.thumb]
        yield say("shapes.thumb-plays", strings=listener.strings(strings))
        return
    in_turn = sorted(use.thumb, key=lambda one: (one[1][0].number, one[1][0].part))
    said = [
        say("shapes.thumb-on", string=listener.string(string), counts=counts_words(counts))
        for string, counts in in_turn
    ]
    yield say("shapes.thumb-plays", strings=listed_clearly(said))


def _of(key: str, strings: Sequence[int], listener: Listener) -> str:
    return say(key if len(strings) == 1 else f"{key}-more", strings=listener.strings(strings))
