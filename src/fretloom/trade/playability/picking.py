"""The picking hand: whether fingers can play what is written, at the tempo it is played.

The input is what is really plucked, in order of time. Thresholds are seconds between onsets. One
finger taps 5 to 6 times a second (norms of a computer version of the Halstead-Reitan tapping test),
trained players about 7 times (from memory); two fingers in turn are faster by half (Aoki &
Kinoshita 2001, Ergonomics 44(15)); the ring finger is slower (Aoki, Furuya & Kinoshita 2005, Motor
Control 9(1)). Plucking has to displace a string, so these are upper bounds. An error stands for the
interval of a trained finger, a warning for 70 % of an untrained one (an assumption).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations, groupby, pairwise
from typing import NamedTuple

from fretloom.values import frozen

#: Seconds between two plucks of one finger: warning below the first, error below the second.
REPEAT = {"p": (0.250, 0.145), "i": (0.250, 0.145), "m": (0.250, 0.145),
          "a": (0.280, 0.165), "c": (0.300, 0.180)}  # fmt: skip
PER_STRING = 0.03
#: The same between the notes of two fingers in turn, and of any sequence at all.
ALTERNATION = (0.120, 0.095)
FASTEST = (0.095, 0.075)
#: Crossed fingers matter when they follow one another within so many seconds.
CROSSED_WITHIN = 0.2
#: Strings between i and a at one instant without strain: about 30 mm at the picking point.
WIDEST = 3
_LADDER = "imac"


@frozen
class Pace:
    """How many times what an intermediate player needs is a warning, for one level.

    `again` is for one finger twice, `turns` for two fingers in turn, `whole` for any sequence.
    """

    again: float
    turns: float
    whole: float


#: Assumptions: a finger taps nearly as fast on the first day, but to order fingers and strings has to be
#: learned. What is an error is the same for every level.
PACES = {
    "beginner": Pace(1.2, 1.3, 1.6),
    "intermediate": Pace(1.0, 1.0, 1.0),
    "advanced": Pace(0.9, 0.9, 0.9),
}


class Plucked(NamedTuple):
    """One string plucked.

    Args:
        time: seconds; notes plucked together, also in a roll or a brush, share it.
        finger: p i m a c. string: 1 is the highest.
        gesture: a number for all notes of one roll or brush, None for a plain pluck.
        brush: the note belongs to a brush: one finger over several strings.
        place: place within the roll or brush, from 0.
        key: whatever the caller finds the note again by.
    """

    time: float
    finger: str
    string: int
    gesture: int | None = None
    brush: bool = False
    place: int = 0
    key: object = None


@frozen
class PickingVerdict:
    """A finding about plucked notes; `value` and `limit` are seconds or strings."""

    rule: str
    severity: str
    notes: tuple[Plucked, ...]
    value: float = 0.0
    limit: float = 0.0


#: What is asked of fingers: the rule, the seconds there are, those needed without a warning and without an
#: error, and the notes.
_Asked = tuple[str, float, float, float, tuple[Plucked, ...]]


def judge_picking(
    notes: Iterable[Plucked], level: str = "intermediate"
) -> tuple[PickingVerdict, ...]:
    """Return the verdicts on notes, which are in order of time, for a player of a level of `PACES`."""
    pace = PACES[level]
    instants = [list(group) for _, group in groupby(notes, key=lambda note: note.time)]
    found: list[PickingVerdict] = []
    for instant in instants:
        if len(instant) > 1:
            found += judge_instant(instant)
    found += _too_fast(_repeats(instants, pace))
    gaps = [now[0].time - before[0].time for before, now in pairwise(instants)]
    if gaps and min(gaps) < CROSSED_WITHIN:
        found += _too_fast(_rates(instants, pace))
        found += _crossed_in_time(instants)
    return tuple(found)


def hurry(notes: Iterable[Plucked], level: str = "intermediate") -> tuple[float, float]:
    """Return how pressed the fingers are by notes in order of time, for a player of a level of `PACES`.

    The first figure is the time they need to be at ease, by the time there is, where that is shortest: up to 1
    there is no warning. The second is the same for the time without which they cannot play it at all. Both are
    0 where nothing follows anything.
    """
    pace = PACES[level]
    instants = [list(group) for _, group in groupby(notes, key=lambda note: note.time)]
    ease = able = 0.0
    for _, gap, warn, error, _ in (*_repeats(instants, pace), *_rates(instants, pace)):
        ease, able = max(ease, warn / gap), max(able, error / gap)
    return ease, able


def _too_fast(asked: Iterable[_Asked]) -> Iterator[PickingVerdict]:
    """Yield verdicts on what comes in too short a time."""
    for rule, gap, warn, error, notes in asked:
        if gap < error - 1e-9:
            yield PickingVerdict(rule, "error", notes, gap, error)
        elif gap < warn - 1e-9:
            yield PickingVerdict(rule, "warning", notes, gap, warn)


def judge_instant(notes: Sequence[Plucked]) -> Iterator[PickingVerdict]:
    """Yield the verdicts on notes that are plucked together."""
    for one, other in combinations(notes, 2):
        rolled = one.gesture is not None and one.gesture == other.gesture
        if one.string == other.string and not rolled and one.finger != other.finger:
            yield PickingVerdict("pick-same-string", "error", (one, other))
        if one.finger == other.finger and not rolled:
            yield from _one_finger(one, other)
        if one.finger != other.finger:
            yield from _crossed(one, other, "error")
            yield from _spread(one, other, rolled)
    yield from _gaps(notes)


def _one_finger(one: Plucked, other: Plucked) -> Iterator[PickingVerdict]:
    apart = abs(one.string - other.string)
    if apart == 0:
        yield PickingVerdict("pick-same-string", "error", (one, other))
    elif apart == 1:
        yield PickingVerdict("pick-brush", "error", (one, other))
    else:
        yield PickingVerdict("pick-two-strings", "error", (one, other), apart, 1)


def _crossed(one: Plucked, other: Plucked, severity: str) -> Iterator[PickingVerdict]:
    """Yield verdicts on a thumb above a finger, and on fingers against the order of the strings."""
    if one.brush or other.brush:
        return
    if "p" in (one.finger, other.finger):
        thumb, finger = (one, other) if one.finger == "p" else (other, one)
        if thumb.string < finger.string:
            yield PickingVerdict("thumb-above", "warning", (thumb, finger))
        return
    lower, higher = sorted((one, other), key=lambda note: _LADDER.index(note.finger))
    if lower.string < higher.string:
        yield PickingVerdict("pick-crossed", severity, (lower, higher))


def _spread(one: Plucked, other: Plucked, rolled: bool) -> Iterator[PickingVerdict]:
    apart = abs(one.string - other.string)
    if {one.finger, other.finger} == {"i", "a"} and not rolled and apart > WIDEST:
        yield PickingVerdict("pick-spread", "warning", (one, other), apart, WIDEST)


def _gaps(notes: Sequence[Plucked]) -> Iterator[PickingVerdict]:
    """Yield verdicts on a brush that leaves out strings on its way: they have to be damped."""
    brushes: dict[tuple[int | None, str], list[Plucked]] = {}
    for note in notes:
        if note.brush:
            brushes.setdefault((note.gesture, note.finger), []).append(note)
    for swept in brushes.values():
        strings = {note.string for note in swept}
        missing = max(strings) - min(strings) + 1 - len(strings)
        if missing:
            yield PickingVerdict("strum-gap", "warning", tuple(swept), missing, 0)


def _repeats(instants: list[list[Plucked]], pace: Pace) -> Iterator[_Asked]:
    """Yield what is asked of each finger that plucks twice."""
    last: dict[str, Plucked] = {}
    for instant in instants:
        for finger, note in _first_of_each(instant).items():
            before = last.get(finger)
            if before is not None:
                moved = PER_STRING * abs(before.string - note.string)
                warn, error = REPEAT[finger][0] * pace.again + moved, REPEAT[finger][1] + moved
                yield "pick-repeat", note.time - before.time, warn, error, (before, note)
        last.update(_last_of_each(instant))


def _first_of_each(instant: list[Plucked]) -> dict[str, Plucked]:
    if len(instant) == 1:
        return {instant[0].finger: instant[0]}
    return {note.finger: note for note in sorted(instant, key=lambda one: -one.place)}


def _last_of_each(instant: list[Plucked]) -> dict[str, Plucked]:
    if len(instant) == 1:
        return {instant[0].finger: instant[0]}
    return {note.finger: note for note in sorted(instant, key=lambda one: one.place)}


def _rates(instants: list[list[Plucked]], pace: Pace) -> Iterator[_Asked]:
    """Yield what is asked of any fingers in a row, and of two in turn."""
    warn, error = FASTEST[0] * pace.whole, FASTEST[1]
    for before, now in pairwise(instants):
        yield "pick-rate-all", now[0].time - before[0].time, warn, error, (before[0], now[0])
    warn, error = ALTERNATION[0] * pace.turns, ALTERNATION[1]
    for first, second, third in zip(instants, instants[1:], instants[2:], strict=False):
        ends = {note.finger for note in first}
        if ends == {note.finger for note in third}:
            fingers = ends | {note.finger for note in second}
            if len(fingers) == 2:
                gap = (third[0].time - first[0].time) / 2
                yield "pick-rate", gap, warn, error, (first[0], second[0], third[0])


def _crossed_in_time(instants: list[list[Plucked]]) -> Iterator[PickingVerdict]:
    for before, now in pairwise(instants):
        if now[0].time - before[0].time >= CROSSED_WITHIN - 1e-9:
            continue
        for one in before:
            for other in now:
                if one.finger != other.finger and "p" not in (one.finger, other.finger):
                    yield from _crossed(one, other, "warning")
