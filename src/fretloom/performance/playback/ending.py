"""When strings stop: at their own next pluck, or where the performance says."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from fretloom.performance.events import TimedNote
from fretloom.performance.playback.sounds import Ending, FretMove, StringSound
from fretloom.values import frozen


@frozen(kw_only=True, eq=False)
class BegunSound:
    """A sound whose end is not known yet; fields as those of `StringSound`, `until` as it is written.

    Where a note is `written`, and where it ends (`straight`), are positions without swing; whether the strings
    are `damped` there.
    """

    bar: int
    at: Fraction
    until: Fraction
    midi: Fraction
    mate: bool
    loudness: int
    moves: tuple[FretMove, ...]
    note: TimedNote
    written: Fraction
    straight: Fraction
    damped: bool


def ended(plucks: Sequence[BegunSound], end: Fraction) -> tuple[StringSound, ...]:
    """Return sounds in order of time, each up to its string's next pluck at most, and with what ends it.

    A string that is written to ring up to its next pluck rings up to where that is played. What rings to the
    end of all dies away.
    """
    ordered = sorted(plucks, key=_in_time)
    following: dict[tuple[int, bool], BegunSound] = {}
    found: list[StringSound] = []
    for pluck in reversed(ordered):
        key = (pluck.note.string, pluck.mate)
        found.append(_cut(pluck, following.get(key), end))
        following[key] = pluck
    found.reverse()
    return tuple(found)


def _in_time(pluck: BegunSound) -> tuple[float, Fraction, int, bool]:
    # Floats are compared ten times as fast, and never in another order; where they are equal, the exact ones decide.
    return (float(pluck.at), pluck.at, -pluck.note.string, pluck.mate)


def _cut(pluck: BegunSound, after: BegunSound | None, end: Fraction) -> StringSound:
    until, moves = pluck.until, pluck.moves
    ends: Ending = "lifted"
    if after is not None and (until > after.at or pluck.straight == after.written):
        if after.at < until:
            moves = tuple(move for move in moves if move.at < after.at)
        until, ends = after.at, "again"
    elif pluck.damped:
        ends = "damped"
    elif until >= end:
        ends = "out"
    return StringSound(
        bar=pluck.bar,
        at=pluck.at,
        until=until,
        string=pluck.note.string,
        midi=pluck.midi,
        mate=pluck.mate,
        loudness=pluck.loudness,
        ends=ends,
        moves=moves,
        note=pluck.note,
    )
