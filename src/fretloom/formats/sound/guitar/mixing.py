"""A playback as samples: every string and slap in order of time, chunk by chunk.

Memory does not grow with length: a voice is made when its first chunk is asked for, and forgotten with its last.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

import numpy as np

from fretloom.formats.sound.guitar.body import CHUNK, through
from fretloom.formats.sound.guitar.constants import RATE, value
from fretloom.formats.sound.guitar.knocks import slap
from fretloom.formats.sound.guitar.scoring import Guitarist, Knock
from fretloom.formats.sound.guitar.string.voice import LEAD, StringVoice, sounded
from fretloom.formats.sound.guitar.string.waves import Samples
from fretloom.performance.events import Settings
from fretloom.performance.playback.sounds import Playback
from fretloom.values import evolve

#: Samples over which comes in what began before the first one.
_SOFT = 16


class Mix:
    """The guitar of a playback. Sample 0 is position 0.

    `beats` is the length of what is played, `length` with what rings on after it. As a `loop` it goes round and round
    for ever, each time `beats` samples later.
    """

    def __init__(self, playback: Playback, settings: Settings, *, loop: bool = False) -> None:
        self._playback, self._loop = playback, loop
        self._player = Guitarist(playback, settings, loop=loop)
        self.beats = round(playback.seconds * RATE)
        self.length = self.beats + self._rings_on()

    def _rings_on(self) -> int:
        """Return how many samples the last strings and the room ring on for after the end."""
        out = any(sound.ends == "out" for sound in self._playback.sounds)
        seconds = value("damping", "rings_on") + 2 * value("damping", "dies") if out else 0.5
        return int(seconds * RATE) + RATE // 2

    def heard(self) -> Iterator[Samples]:
        """Yield what two ears hear, from sample 0 to `length`: arrays of two rows, without a set loudness."""
        yield from self.between(0, self.length)

    def between(self, start: int, stop: int) -> Iterator[Samples]:
        """Yield what is heard from a sample to another, in chunks of `CHUNK` samples, the last one shorter."""
        making = self._player.making
        # What was pushed before still rings in the body and the room.
        early = start - CHUNK if self._loop else start
        rounds = self._rounds(early, stop) if self._loop else [0]
        pushed = self._pushed(self._events(rounds), early, stop)
        at = early
        for heard in through(pushed, making.body, making.size):
            if at >= start:
                yield heard[:, : stop - at]
            at += CHUNK

    def silence(self, start: int, stop: int) -> Iterator[Samples]:
        """Yield as many chunks as `between`, in which nothing is heard."""
        for at in range(start, stop, CHUNK):
            yield np.zeros((2, min(CHUNK, stop - at)), np.float32)

    def _rounds(self, start: int, stop: int) -> range:
        """Return which rounds of a loop are heard from a sample to another, 0 being the one from sample 0."""
        if not self.beats:
            return range(0)
        # Each string is plucked in each round: so none sounds longer than a round and its damping.
        return range(start // self.beats - 1, stop // self.beats + 1)

    def _pushed(
        self, events: Iterator[StringVoice | Knock], start: int, stop: int
    ) -> Iterator[Samples]:
        """Yield what the strings push, chunk by chunk."""
        pending = _Pending(start)
        event = next(events, None)
        for begin in range(start, stop, CHUNK):
            while event is not None and event.start - LEAD < begin + CHUNK:
                if not isinstance(event, StringVoice) or event.start + event.length > start:
                    pending.add(*self._made(event))
                event = next(events, None)
            yield pending.taken()

    def _made(self, event: StringVoice | Knock) -> tuple[int, Samples, float]:
        if isinstance(event, Knock):
            return event.start, slap(event.place, event.seed, event.loud), 0.0
        return event.start - LEAD, sounded(event, self._player.making), event.pan

    def _events(self, rounds: Iterable[int]) -> Iterator[StringVoice | Knock]:
        """Yield voices and knocks in order of time, of some rounds of a loop."""
        for number in rounds:
            later = number * self.beats
            for one in self._player.events():
                yield evolve(one, start=one.start + later) if later else one


class _Pending:
    """What has been made of later chunks."""

    def __init__(self, start: int) -> None:
        self._start = start
        self._chunks: list[Samples] = []

    def add(self, start: int, wave: Samples, pan: float) -> None:
        """Add a sound from a sample on, from -1 on the left to 1 on the right."""
        angle = (1 + pan * value("room", "panned")) * math.pi / 4
        sides = np.array([[math.cos(angle)], [math.sin(angle)]], np.float32) * np.float32(2**0.5)
        at, done = start - self._start, 0
        if at < 0:
            done, at = min(-at, len(wave)), 0
            soft = min(_SOFT, len(wave) - done)
            wave[done : done + soft] *= np.linspace(0, 1, soft, dtype=np.float32)
        while done < len(wave):
            number, place = divmod(at, CHUNK)
            while number >= len(self._chunks):
                self._chunks.append(np.zeros((2, CHUNK), np.float32))
            some = wave[done : done + CHUNK - place]
            self._chunks[number][:, place : place + len(some)] += sides * some
            done, at = done + len(some), at + len(some)

    def taken(self) -> Samples:
        """Return the next chunk, which is then forgotten."""
        self._start += CHUNK
        return self._chunks.pop(0) if self._chunks else np.zeros((2, CHUNK), np.float32)
