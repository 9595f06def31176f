"""When strings stop: at their own next pluck, or where the performance says."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from attrs import evolve

from fretloom.performance.playback.sounds import Ending, StringSound
from fretloom.values import frozen


@frozen
class Ends:
    """Where a note is written, straight, and where it ends; whether the strings are damped there."""

    written: Fraction
    straight: Fraction
    damped: bool


def ended(sounds: Sequence[tuple[Ends, StringSound]], end: Fraction) -> tuple[StringSound, ...]:
    """Return sounds in order of time, each up to its string's next pluck at most, and with what ends it.

    A string that is written to ring up to its next pluck rings up to where that is played. What rings to the
    end of all dies away.
    """
    ordered = sorted(sounds, key=lambda one: (one[1].at, -one[1].string, one[1].mate))
    following: dict[tuple[int, bool], tuple[Ends, StringSound]] = {}
    found: list[StringSound] = []
    for ends, sound in reversed(ordered):
        key = (sound.string, sound.mate)
        found.append(_cut(ends, sound, following.get(key), end))
        following[key] = (ends, sound)
    return tuple(reversed(found))


def _cut(
    ends: Ends, sound: StringSound, after: tuple[Ends, StringSound] | None, end: Fraction
) -> StringSound:
    if after is not None and (sound.until > after[1].at or ends.straight == after[0].written):
        return _until(sound, after[1].at, "again")
    if ends.damped:
        return evolve(sound, ends="damped")
    return evolve(sound, ends="out") if sound.until >= end else sound


def _until(sound: StringSound, until: Fraction, ends: Ending) -> StringSound:
    moves = sound.moves
    if until < sound.until:
        moves = tuple(move for move in moves if move.at < until)
    return evolve(sound, until=until, ends=ends, moves=moves)
