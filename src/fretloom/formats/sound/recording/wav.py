"""Writes a recording as WAV: 16 bits, 44,100 samples a second, two channels."""

from __future__ import annotations

import wave
from collections.abc import Callable, Iterator
from typing import IO, TYPE_CHECKING, cast

from fretloom.formats.beside import beside_the_music
from fretloom.formats.shape import LeftOut, MadeAnew, Output, file_name
from fretloom.formats.sound.choice import chosen_playback
from fretloom.formats.sound.recording.lasting import refuse_too_long
from fretloom.formats.sound.recording.needed import needed
from fretloom.formats.sound.recording.options import RecordingOptions
from fretloom.performance.playback.sounds import Playback
from fretloom.performance.reading import Reading

if TYPE_CHECKING:
    from fretloom.formats.sound.recording.level import Level
    from fretloom.formats.sound.recording.recorded import Recording


def write(reading: Reading, options: RecordingOptions) -> tuple[Output, ...]:
    """Record what is played as WAV.

    Raises:
        FretloomError: numpy is not installed, or the lesson is too long.
    """
    made = recordings_of(chosen_playback(reading, options), reading, options)
    content = MadeAnew(lambda: wav_pieces(made()))
    return (Output(file_name(reading.lesson, ".wav"), content, left_out_of(reading)),)


def left_out_of(reading: Reading) -> tuple[LeftOut, ...]:
    """Return what of a lesson is not heard in a recording."""
    found = beside_the_music(reading, "a recording", ("instrument", "scale"))
    sung = any(played.sung is not None for played in reading.timeline.bars)
    words = [LeftOut("the words of the song, which are not sung")] if sung else []
    return (*found, *words)


def recordings_of(
    playback: Playback, reading: Reading, options: RecordingOptions, level: Level | None = None
) -> Callable[[], Recording]:
    """Return what makes the recording of a playback, at a level that it shares with others or at its own.

    Raises:
        FretloomError: numpy is not installed, or it is too long.
    """
    needed("numpy", "sound is made with numpy")
    refuse_too_long(playback)
    from fretloom.formats.sound.recording.recorded import RecordingPlan, recorded

    plan = RecordingPlan(clicks=options.clicks, level=level)
    return lambda: recorded(playback, reading.timeline.settings, plan)


def wav_pieces(recording: Recording) -> Iterator[bytes]:
    """Yield a recording as the bytes of a WAV file, piece by piece."""
    from fretloom.formats.sound.guitar.constants import RATE
    from fretloom.formats.sound.recording.samples16 import sixteen_bits

    sink = _Sink()
    with wave.open(cast("IO[bytes]", sink), "wb") as made:
        made.setnchannels(2)
        made.setsampwidth(2)
        made.setframerate(RATE)
        made.setnframes(recording.frames)
        for chunk in recording.chunks:
            made.writeframesraw(sixteen_bits(chunk))
            yield sink.taken()
    yield sink.taken()


class _Sink:
    """Takes what is written and hands it on. The header is right from the start, since the length is known."""

    def __init__(self) -> None:
        self._pieces: list[bytes] = []

    def write(self, data: bytes) -> int:
        self._pieces.append(bytes(data))
        return len(data)

    def tell(self) -> int:
        """Return a place to which `wave` would go back if a recording broke off."""
        return 0

    def seek(self, place: int, whence: int = 0) -> None:
        """Nothing is written again: what broke off is not handed on."""

    def flush(self) -> None:
        """Nothing waits."""

    def close(self) -> None:
        """Nothing is open."""

    def taken(self) -> bytes:
        """Return what has come since the last time."""
        taken, self._pieces = b"".join(self._pieces), []
        return taken
