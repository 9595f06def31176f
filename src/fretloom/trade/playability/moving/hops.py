"""One finger in two places within a bar: hops from string to string, and what they do to the sound.

Two notes stopped by one finger at different places (and not under one barre) cannot sound
together: the first ends when the finger leaves for the second.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import hypot

from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.playability.moving.skills import ADVANCED, SLIDING, TARGET, Skill, movement_time
from fretloom.values import frozen

#: Seconds a note needs at the least before the finger that stops it leaves (an assumption).
LEAST_NOTE = 0.05
#: A hop that takes more of the time there is than this is a tight one.
TIGHT = 0.5


@frozen
class StoppedNote:
    """A note that a fretting finger stops.

    Args:
        time: when it is plucked, in seconds; ends: until when it should sound.
        finger: the fretting finger; string: 1 the highest; fret: counted from the nut.
        slid: the finger reaches it by sliding from the note before on this string.
        home: the finger is there anyway while the voicing is held (with a barre, on any string of it).
    """

    time: float
    ends: float
    finger: str
    string: int
    fret: int
    slid: bool = False
    home: bool = False


@frozen
class HopVerdict:
    """A finger leaving one note for another.

    Args:
        rule: "hop-too-fast", "hop-tight", "hop" or "hop-cuts-note"; severity as for verdicts.
        first, second: the notes.
        needed: seconds the movement takes; available: seconds from pluck to pluck.
    """

    rule: str
    severity: str
    first: StoppedNote
    second: StoppedNote
    needed: float
    available: float


def hop_time(neck: Neck, first: StoppedNote, second: StoppedNote, skill: Skill) -> float:
    """Return the seconds a finger takes from one note to another."""
    along = neck.span(first.fret, second.fret)
    if first.string == second.string:
        width = max(TARGET, neck.span(max(0, second.fret - 1), second.fret) / 2)
        return movement_time(along, width, skill) * SLIDING
    across = neck.across(second.string, second.fret) - neck.across(first.string, first.fret)
    return movement_time(hypot(along, across), TARGET, skill)


def hops(neck: Neck, notes: Iterable[StoppedNote], skill: Skill) -> tuple[HopVerdict, ...]:
    """Return the verdicts on the hops among notes, which are in order of time."""
    last: dict[str, list[StoppedNote]] = {}
    found: list[HopVerdict] = []
    for note in notes:
        for before in last.get(note.finger, ()):
            found += _hop(neck, before, note, skill)
        held = [one for one in last.get(note.finger, ()) if _together(one, note)]
        last[note.finger] = [*held, note]
    return tuple(found)


def _together(one: StoppedNote, other: StoppedNote) -> bool:
    """Whether one finger stops both without moving (one place, or a barre)."""
    return one.fret == other.fret and one.time == other.time


def _hop(neck: Neck, first: StoppedNote, second: StoppedNote, skill: Skill) -> Iterator[HopVerdict]:
    if (
        second.slid
        or (first.home and second.home)
        or (first.fret == second.fret and first.string == second.string)
    ):
        return
    gap = second.time - first.time
    quickest = hop_time(neck, first, second, ADVANCED)
    needed = hop_time(neck, first, second, skill)
    if gap <= 0 or quickest + LEAST_NOTE > gap:
        yield HopVerdict("hop-too-fast", "error", first, second, quickest, gap)
    else:
        rule = ("hop-tight", "warning") if needed / gap > TIGHT else ("hop", "info")
        yield HopVerdict(*rule, first, second, needed, gap)
    if first.ends > second.time + 1e-9 and first.string != second.string:
        yield HopVerdict("hop-cuts-note", "warning", first, second, needed, gap)
