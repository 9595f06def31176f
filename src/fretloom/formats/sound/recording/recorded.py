"""A recording: the guitar at its level, clicks, peaks held down; chunk by chunk, whatever its length."""

from __future__ import annotations

import math
from collections.abc import Iterator
from tempfile import SpooledTemporaryFile

import numpy as np

from fretloom.formats.sound.clicking import Clicks, clicked_bar
from fretloom.formats.sound.guitar.constants import RATE
from fretloom.formats.sound.guitar.knocks import click
from fretloom.formats.sound.guitar.mixing import Mix
from fretloom.formats.sound.guitar.string.waves import Samples
from fretloom.formats.sound.recording.level import Level, level_for
from fretloom.formats.sound.recording.limiter import limited
from fretloom.formats.sound.recording.loudness import LoudnessMeter
from fretloom.formats.sound.recording.needed import no_room
from fretloom.performance.events import Settings
from fretloom.performance.playback.sounds import Playback
from fretloom.values import frozen

#: Bytes that wait in memory for their level; more wait in a temporary file.
_IN_MEMORY = 24_000_000
#: Samples before and behind a loop that the limiter hears as well.
_AROUND = 2048


@frozen(kw_only=True)
class RecordingPlan:
    """How a playback is recorded.

    Args:
        clicks: in bars that are counted in, in all bars, or in none. strings: whether the guitar is heard.
        loop: as one round of a loop that goes on and on: exactly as long as its beats, with what rings over its
            end at its beginning. level: that of the lesson; None to find the level of this recording alone.
    """

    clicks: Clicks = "count-in"
    strings: bool = True
    loop: bool = False
    level: Level | None = None


@frozen(eq=False)
class Recording:
    """`frames` samples for two ears at 44,100 a second, as arrays of two rows from -1 to 1, to be read once."""

    frames: int
    chunks: Iterator[Samples]


def recorded(playback: Playback, settings: Settings, plan: RecordingPlan) -> Recording:
    """Return a recording; nothing is made before its chunks are read."""
    mix = Mix(playback, settings, loop=plan.loop)
    frames = mix.beats if plan.loop else mix.length
    if not plan.loop:
        return Recording(frames, limited(_mixed(playback, mix, plan, 0, frames)))
    if not frames:
        return Recording(0, iter(()))
    whole = limited(_mixed(playback, mix, plan, -_AROUND, frames + _AROUND))
    return Recording(frames, _cut(whole, _AROUND, frames))


def _mixed(
    playback: Playback, mix: Mix, plan: RecordingPlan, start: int, stop: int
) -> Iterator[Samples]:
    clicks = _Clicks(playback, mix, plan)
    at = start
    for chunk in _levelled(mix, plan, start, stop):
        clicks.add(chunk, at)
        yield chunk
        at += chunk.shape[1]


def _levelled(mix: Mix, plan: RecordingPlan, start: int, stop: int) -> Iterator[Samples]:
    """Yield the guitar at its level: it waits until all of it has been measured, if no level is given."""
    if not plan.strings:
        yield from mix.silence(start, stop)
        return
    if plan.level is not None:
        gain = np.float32(plan.level.gain)
        for chunk in mix.between(start, stop):
            yield chunk * gain
        return
    meter = LoudnessMeter()
    with SpooledTemporaryFile(max_size=_IN_MEMORY) as waiting:
        try:
            for chunk in mix.between(start, stop):
                meter.take(chunk)
                waiting.write(chunk.astype(np.float32, copy=False).tobytes())
        except OSError as error:
            raise no_room(error) from None
        waiting.seek(0)
        gain = np.float32(level_for(meter.loudness()).gain)
        for silent in mix.silence(start, stop):
            data = np.frombuffer(waiting.read(silent.nbytes), np.float32)
            yield data.reshape(silent.shape) * gain


def _cut(chunks: Iterator[Samples], skipped: int, length: int) -> Iterator[Samples]:
    """Yield `length` samples of a sound, without some at its beginning."""
    left = length
    for chunk in chunks:
        some = chunk[:, skipped : skipped + left]
        skipped = max(0, skipped - chunk.shape[1])
        left -= some.shape[1]
        if some.shape[1]:
            yield some


class _Clicks:
    """The clicks of a recording, at a level of their own."""

    def __init__(self, playback: Playback, mix: Mix, plan: RecordingPlan) -> None:
        self._clicks: list[tuple[int, float, int]] = []
        for bar in playback.bars:
            if not clicked_bar(plan.clicks, bar):
                continue
            for position, strength in bar.counts:
                at = playback.clock.seconds(position) * RATE
                begin = math.floor(at)
                self._clicks.append((begin, float(at - begin), strength))
        if plan.loop:
            rounds = range(-1 - _AROUND // mix.beats, 2 + _AROUND // mix.beats) if mix.beats else ()
            self._clicks = [
                (begin + number * mix.beats, late, strength)
                for number in rounds
                for begin, late, strength in self._clicks
            ]
        self._next = 0

    def add(self, chunk: Samples, at: int) -> None:
        """Add what is clicked to a chunk that begins at a sample; chunks come in order of time."""
        length = chunk.shape[1]
        place = self._next
        while place < len(self._clicks) and self._clicks[place][0] < at + length:
            begin, late, strength = self._clicks[place]
            wave = click(strength, late)
            place += 1
            if begin + len(wave) <= at:
                self._next = place
                continue
            first, last = max(begin, at), min(begin + len(wave), at + length)
            chunk[:, first - at : last - at] += wave[first - begin : last - begin]
