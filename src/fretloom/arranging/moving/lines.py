"""Lines that move step by step under or over a chord from one voicing to the next, and whether they are kept."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise

from fretloom.arranging.common_shape import name_opens
from fretloom.performance.events import Timeline
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.harmony.chord_tones import chord_tones

_STEP = 2
Pair = tuple[str, str]
#: "bass" or "line", and how many half steps it goes.
Move = tuple[str, int]


def changes_of(timeline: Timeline) -> tuple[Pair, ...]:
    """Return each change from one voicing to another that is played, once, in order."""
    names: list[str] = []
    for played in timeline.bars:
        for one in played.bar.voicings:
            if not names or names[-1] != one.voicing.name:
                names.append(one.voicing.name)
    return tuple(dict.fromkeys(pairwise(names)))


def lines_lost(old: Timeline, new: Timeline, names: Mapping[str, str]) -> Iterator[Pair]:
    """Yield the changes, by the old names, whose moving line the new voicings do not have.

    A line is a note that goes one or two half steps up or down while the chord stays, or while a
    slash names the bass.
    """
    before = name_opens(old.settings)
    for one, other in changes_of(old):
        first, second = old.voicings.get(one), old.voicings.get(other)
        there, then = new.voicings.get(names.get(one, "")), new.voicings.get(names.get(other, ""))
        if not (first and second and there and then):
            continue
        if not _is_line(first, second, old.settings.names):
            continue
        if not _is_kept(_moves(first, second, before), _moves(there, then, before)):
            yield one, other


def _is_kept(wanted: frozenset[Move], moves: frozenset[Move]) -> bool:
    """Whether a bass that goes by steps still does, and else one of the other notes."""
    bass = frozenset(move for move in wanted if move[0] == "bass")
    return bass <= moves and (not wanted or bool(wanted & moves))


def _is_line(one: Voicing, other: Voicing, naming: str) -> bool:
    tones = [chord_tones(voicing.symbol, naming) for voicing in (one, other)]
    if tones[0] is None or tones[1] is None:
        return False
    return tones[0].root == tones[1].root or any(each and each.bass is not None for each in tones)


def _moves(one: Voicing, other: Voicing, opens: tuple[int, ...]) -> frozenset[Move]:
    """Return the steps of the lowest note and of the notes that only one of two voicings has."""
    first, second = _notes(one, opens), _notes(other, opens)
    if not first or not second:
        return frozenset()
    found = {("bass", min(second) - min(first))} if min(first) != min(second) else set()
    found |= {("line", new - gone) for gone in first - second for new in second - first}
    return frozenset(move for move in found if abs(move[1]) <= _STEP)


def _notes(voicing: Voicing, opens: tuple[int, ...]) -> set[int]:
    if len(voicing.frets) != len(opens):
        return set()
    pairs = zip(opens, voicing.frets, strict=True)
    return {note + fret for note, fret in pairs if fret is not None}
