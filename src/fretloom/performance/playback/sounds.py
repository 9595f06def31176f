"""What is heard: strings from their pluck to their end, slaps, and bars, on one axis of time.

A *position* is counted in quarter notes from the beginning of what is played, exact, with swing and all that is
spread in time already in it. A `Clock` turns positions into seconds, and is the only thing that does.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from fretloom.performance.events import PlayedBar, TimedNote
from fretloom.performance.manner import TimedSlap
from fretloom.performance.playback.clock import Clock
from fretloom.values import frozen

#: What the fretting hand does to a string that sounds.
MoveKind = Literal["hammer-on", "pull-off", "slide", "bend", "release"]
#: How a string's sound ends: it is plucked again, the picking hand damps it, the finger leaves, or it dies away.
Ending = Literal["again", "damped", "lifted", "out"]
#: Loudness as MIDI counts it ("velocity").
LOUDEST = 127


@frozen(kw_only=True)
class FretMove:
    """Another pitch of a string that sounds, from `at` on its way and reached at `until` (positions).

    `midi` is the MIDI number reached, in semitones and parts of them; `fret` where the string is then
    stopped, counted from the capo. A hammer-on and a pull-off are reached at once.
    """

    kind: MoveKind
    at: Fraction
    until: Fraction
    fret: int
    midi: Fraction


@frozen(kw_only=True)
class StringSound:
    """One string from its pluck to the end of its sound.

    Args:
        bar: which bar of `Playback.bars` it was plucked in, from 0.
        at, until: positions of the pluck and of the end. `until` is never before `at`.
        string, midi: the string, and the MIDI number at the pluck, in semitones and parts of them (a string
            bent before it is plucked). mate: the second string of a course.
        loudness: 1 to `LOUDEST`.
        ends: what ends it.
        moves: what the fretting hand does meanwhile, in order of time.
        note: the pluck that it comes from.
    """

    bar: int
    at: Fraction
    until: Fraction
    string: int
    midi: Fraction
    mate: bool
    loudness: int
    ends: Ending
    moves: tuple[FretMove, ...]
    note: TimedNote


@frozen(kw_only=True)
class SlapSound:
    """A slap, at a position; `loudness` as for strings."""

    bar: int
    at: Fraction
    loudness: int
    slap: TimedSlap


@frozen(kw_only=True)
class BarTime:
    """A bar from position `start` to `end`.

    `played` is the bar of the performance, None for one that is only counted in; `answer`
    marks one that is left to the student. `counts` are the positions
    of what is counted aloud, each with 0 for the first of a bar, 1 for one that begins a group, 2 for others.
    """

    start: Fraction
    end: Fraction
    counts: tuple[tuple[Fraction, int], ...]
    played: PlayedBar | None = None
    answer: bool = False

    @property
    def silent(self) -> bool:
        """Whether nothing sounds in it because it is counted in, or left to the student."""
        return self.played is None or self.answer


@frozen(kw_only=True, eq=False)
class Playback:
    """What is heard, all in order of time; `end` is the position of its end."""

    clock: Clock
    bars: tuple[BarTime, ...]
    sounds: tuple[StringSound, ...]
    slaps: tuple[SlapSound, ...]
    end: Fraction

    @property
    def seconds(self) -> Fraction:
        """How long it lasts up to the end of its last bar; strings may ring on."""
        return self.clock.seconds(self.end)
