"""What a bar asks of the picking hand: how close its strokes are, and how many fall between the counts."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from itertools import pairwise

from fretloom.arranging.easing.levels import Reach
from fretloom.performance.events import TimedBar
from fretloom.trade.music.meter import Meter
from fretloom.values import frozen

_THUMB = "p"


@frozen
class PluckedAt:
    """What is plucked at once: its place in the full bar in quarter notes, and by whom."""

    at: Fraction
    thumb: bool
    fingers: bool


@frozen
class Load:
    """What a bar asks of the picking hand.

    Args:
        closest: the shortest way from one stroke to the next in quarter notes, None where there is none.
        between: strokes of the fingers between the counts, if the thumb walks: else 0.
        pinches: strokes of the thumb with a finger, on the counts, if the thumb walks: else 0.
    """

    closest: Fraction | None = None
    between: int = 0
    pinches: int = 0


def instants(bar: TimedBar) -> tuple[PluckedAt, ...]:
    """Return the strokes of a bar as it is played."""
    found: dict[Fraction, set[bool]] = {}
    for note in bar.notes:
        found.setdefault(bar.start + note.onset, set()).add(note.finger == _THUMB)
    return tuple(PluckedAt(at, True in who, False in who) for at, who in found.items())


def load(strokes: Sequence[PluckedAt], meter: Meter, end: Fraction) -> Load:
    """Return what strokes in order ask of the hand, in a bar that ends at `end`; the next one begins with a stroke."""
    if not strokes:
        return Load()
    places = [*(one.at for one in strokes), end]
    closest = min(later - at for at, later in pairwise(places))
    on_count = [one for one in strokes if not meter.count_at(one.at).part]
    if 2 * sum(one.thumb for one in on_count) <= meter.count_total:
        return Load(closest)
    off = [one for one in strokes if meter.count_at(one.at).part]
    pinches = sum(one.thumb and one.fingers for one in on_count)
    return Load(closest, sum(one.fingers for one in off), pinches)


def load_of(bar: TimedBar) -> Load:
    """Return what a bar as it is played asks of the picking hand."""
    return load(instants(bar), bar.meter, bar.start + bar.length)


def too_close(found: Load, beat: float, reach: Reach) -> bool:
    """Whether strokes come faster than a level plays them; `beat` is a quarter note in seconds."""
    return found.closest is not None and float(found.closest) * beat < reach.pace - 1e-9


def too_much(found: Load, reach: Reach) -> bool:
    """Whether there is more between the counts of a walking thumb than a level plays."""
    if not found.between:
        return False
    return found.between > reach.between or found.between + found.pinches > reach.together


def heaviest(loads: Iterable[Load]) -> Load:
    """Return the load that has the most between the counts, and of those the closest strokes."""
    return max(
        loads,
        key=lambda one: (one.between, one.pinches, -(one.closest or Fraction(1000))),
        default=Load(),
    )
