"""A playback in the terms of a player's hands: voices of strings and knocks, each at its sample."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterator
from fractions import Fraction

from fretloom.formats.sound.guitar.chance import chances, seed_of
from fretloom.formats.sound.guitar.constants import RATE, table, value
from fretloom.formats.sound.guitar.string.making import (
    Making,
    StringMake,
    force_of,
    frequency,
    making_of,
    struck_as,
)
from fretloom.formats.sound.guitar.string.modes import StringStop
from fretloom.formats.sound.guitar.string.voice import StringChange, StringVoice
from fretloom.performance.events import Settings
from fretloom.performance.playback.sounds import FretMove, Playback, SlapSound, StringSound
from fretloom.values import frozen

#: A damping takes this share of a short note at most.
_SHARE = Fraction(1, 3)


@frozen(kw_only=True)
class Knock:
    """A slap or a click: the sample before it begins, and how much of a sample later it does."""

    start: int
    late: float
    place: str
    seed: int
    loud: float


class Guitarist:
    """Knows the strings of a lesson and when each is plucked next."""

    def __init__(self, playback: Playback, settings: Settings, *, loop: bool = False) -> None:
        self.making: Making = making_of(settings)
        self._playback, self._settings = playback, settings
        self._seconds = playback.clock.seconds
        self._plucks: dict[tuple[int, bool], list[Fraction]] = {}
        for sound in playback.sounds:
            self._plucks.setdefault((sound.string, sound.mate), []).append(sound.at)
        self._loop = loop
        self._silent = [bar.start for bar in playback.bars if bar.silent]

    def events(self) -> Iterator[StringVoice | Knock]:
        """Yield all that is heard, in order of time."""
        slaps, place = self._playback.slaps, 0
        for sound in self._playback.sounds:
            while place < len(slaps) and slaps[place].at <= sound.at:
                yield self.knock(slaps[place])
                place += 1
            yield self.voice(sound)
        yield from map(self.knock, slaps[place:])

    def voice(self, sound: StringSound) -> StringVoice:
        """Return what a string plays from one pluck on."""
        note, string = sound.note, self._string(sound)
        at = self._seconds(sound.at) * RATE
        start = math.floor(at)
        seed = self._seed(sound)
        changes = list(self._moves(sound, string, at, start))
        damp, seconds = self._damped(sound)
        damping = max(1, round(damp * RATE) - start)
        changes = [one for one in changes if one.at < damping]
        changes.append(StringChange(kind="damp", at=damping, seconds=seconds))
        share = value("damping", "after") if seconds < 0.5 else 2.2
        every, stop = self._stopped(sound, string)
        one = table("strings")
        return StringVoice(
            start=start,
            late=float(at - start),
            string=string,
            stop=stop,
            every=every,
            finger=note.finger,
            force=force_of(sound.loudness) * (one["course_gain"] if sound.mate else 1.0),
            hard=min(1.0, sound.loudness / 110),
            dead=note.dead,
            changes=tuple(changes),
            length=damping + int(share * RATE),
            seed=seed,
            pan=(string.share - 0.5) * 2,
            cents=self._cents(sound),
        )

    def knock(self, slap: SlapSound) -> Knock:
        """Return a slap."""
        at = self._seconds(slap.at) * RATE
        start = math.floor(at)
        loud = force_of(slap.loudness)
        seed = seed_of(slap.bar, int(slap.slap.onset * 960), 97)
        return Knock(
            start=start, late=float(at - start), place=slap.slap.place, seed=seed, loud=loud
        )

    def _string(self, sound: StringSound) -> StringMake:
        strings = self.making.strings
        return strings.get((sound.string, sound.mate)) or strings[sound.string, False]

    def _seed(self, sound: StringSound) -> int:
        played = self._playback.bars[sound.bar].played
        bar = sound.bar if played is None else played.index
        note = sound.note
        onset = (note.onset.numerator, note.onset.denominator)
        return seed_of(bar, sound.string, int(sound.mate), *onset, note.order or 0)

    def _cents(self, sound: StringSound) -> float:
        """Return how far the second string of a course is off: each a little, as on any such guitar."""
        if not sound.mate:
            return 0.0
        least, most = table("strings")["course_cents"]
        drawn = float(chances(seed_of(sound.string, 12), 1)[0])
        return float(least + (most - least) * (drawn + 1) / 2)

    def _stopped(self, sound: StringSound, string: StringMake) -> tuple[int, StringStop]:
        """Return where a string is stopped at the pluck, and of a harmonic which partials sound."""
        every, fret, midi = struck_as(sound, self._settings)
        return every, self._stop(sound, string, fret, midi)

    def _stop(self, sound: StringSound, string: StringMake, fret: int, midi: float) -> StringStop:
        capo = self.making.capo.get(sound.string, 0)
        length = string.length * 2.0 ** (-max(0, fret + capo) / 12)
        return StringStop(length, frequency(midi), fret + capo > 0)

    def _moves(
        self, sound: StringSound, string: StringMake, start: Fraction, first: int
    ) -> Iterator[StringChange]:
        last = 0
        for move in sound.moves:
            at = max(last, round(self._seconds(move.at) * RATE) - first)
            yield self._move(sound, string, move, at, first)
            last = at
        if sound.note.technique.vibrato:
            arrived = round(self._seconds(sound.moves[-1].until) * RATE) - first if last else 0
            begins = int(value("slurs", "vibrato_starts") * RATE)
            yield StringChange(kind="vibrato", at=max(last, arrived) + begins)

    def _move(
        self, sound: StringSound, string: StringMake, move: FretMove, at: int, first: int
    ) -> StringChange:
        stop = self._stop(sound, string, move.fret, float(move.midi))
        if move.kind in ("hammer-on", "pull-off"):
            return StringChange(kind=move.kind, at=at, stop=stop)
        until = round(self._seconds(move.until) * RATE) - first
        slides = move.kind == "slide"
        return StringChange(
            kind="glide", at=at, stop=stop, lasts=max(32, until - at), slides=slides
        )

    def _damped(self, sound: StringSound) -> tuple[Fraction, float]:
        """Return when a string is touched, in seconds, and how fast it dies away then.

        What would ring on is stopped where a bar is counted in, or left to the student.
        """
        damping = table("damping")
        place = bisect_right(self._silent, sound.at)
        if place < len(self._silent) and self._silent[place] <= sound.until:
            return self._seconds(self._silent[place]), damping["lifted"]
        begin, until = self._seconds(sound.at), self._seconds(sound.until)
        following = self._plucked_next(sound)
        if following is not None and (sound.ends in ("again", "out") or following <= until):
            before = Fraction(damping["before_next"])
            return following - min(before, (following - begin) * _SHARE), damping["palm"]
        if sound.ends == "damped":
            return until, damping["palm"]
        if sound.ends == "out":
            return until + Fraction(damping["rings_on"]), damping["dies"]
        return until, damping["lifted"]

    def _plucked_next(self, sound: StringSound) -> Fraction | None:
        """Return when a string is plucked again, in seconds, in a loop in the next round; None if it is not."""
        plucks = self._plucks[sound.string, sound.mate]
        place = bisect_right(plucks, sound.at)
        if place < len(plucks):
            return self._seconds(plucks[place])
        return self._seconds(plucks[0]) + self._playback.seconds if self._loop else None
