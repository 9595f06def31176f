"""Short lessons, what is heard of them, and ways to measure that from the samples alone."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import numpy.typing as npt

from fretloom.api import examine, load, loads
from fretloom.formats.sound.guitar.mixing import Mix
from fretloom.formats.sound.guitar.scoring import Guitarist
from fretloom.formats.sound.guitar.string.voice import LEAD, StringVoice, sounded
from fretloom.performance.events import Settings
from fretloom.performance.playback.play import play
from fretloom.performance.playback.sounds import Playback

RATE = 44100
Sound = npt.NDArray[np.floating]

HEAD = """lesson "Test"
{fields}
voicings
  O  {frets}
patterns
  t p , p , p , p
"""


def playback_of(bars: str, *fields: str, frets: str = "022100") -> tuple[Playback, Settings]:
    """Play bars of a section with one voicing, O, and their own plucks: `O { i3@2 , - , - , - }`."""
    head = HEAD.format(fields="".join(f"  {one}\n" for one in fields), frets=frets)
    return played(examine(loads(f"{head}section s using t\n  {bars}\n")))


def played_file(path: Path) -> tuple[Playback, Settings]:
    """Play a lesson's file."""
    return played(examine(load(path)))


def played(examined: object) -> tuple[Playback, Settings]:
    reading = examined.reading  # type: ignore[attr-defined]
    wrong = [*reading.lesson.faults, *reading.expansion.diagnostics]
    assert [one.message for one in wrong if str(one.severity) == "error"] == []
    settings = reading.timeline.settings
    return play(reading.timeline.bars, settings), settings


def heard(playback: Playback, settings: Settings) -> Sound:
    """Return what two ears hear, as two rows."""
    return np.concatenate(list(Mix(playback, settings).heard()), axis=1)


def voices(playback: Playback, settings: Settings) -> list[tuple[StringVoice, Sound]]:
    """Return each string as it pushes at the bridge from its pluck on, without body and room."""
    player = Guitarist(playback, settings)
    return [
        (one, sounded(one, player.making)[LEAD:])
        for one in player.events()
        if isinstance(one, StringVoice)
    ]


def hertz_of(midi: float) -> float:
    """Equal temperament with A4 = 440 Hz (ISO 16:1975)."""
    return 440 * 2 ** ((midi - 69) / 12)


def cents_off(sound: Sound, hertz: float, start: float, seconds: float = 1.0) -> float:
    """Return how many cents the strongest partial near a frequency is off, by the peak of a spectrum."""
    some = sound[int(start * RATE) : int((start + seconds) * RATE)]
    size = 1 << 17
    spectrum = np.abs(np.fft.rfft(some * np.hanning(len(some)), size))
    low, high = int(hertz * 0.93 * size / RATE), int(hertz * 1.07 * size / RATE) + 2
    peak = low + int(np.argmax(spectrum[low:high]))
    one, two, three = np.log(spectrum[peak - 1 : peak + 2])
    place = peak + (one - three) / (2 * (one - 2 * two + three))
    return float(1200 * np.log2(place * RATE / size / hertz))


def decibels(sound: Sound, start: float, end: float) -> float:
    """Return the mean level from one time to another."""
    some = sound[..., int(start * RATE) : int(end * RATE)].astype(float)
    return float(10 * np.log10(np.mean(some**2) + 1e-30))


def partial_level(sound: Sound, hertz: float, start: float, end: float) -> float:
    """Return how strong a frequency is from one time to another, in dB."""
    some = sound[..., int(start * RATE) : int(end * RATE)].astype(float)
    some = some.mean(axis=0) if some.ndim > 1 else some
    window = np.hanning(len(some))
    turn = np.exp(-2j * np.pi * hertz * np.arange(len(some)) / RATE)
    return float(20 * np.log10(np.abs(np.sum(some * window * turn)) / window.sum() + 1e-15))


def above(sound: Sound, hertz: float) -> Sound:
    """Return what a sound has above a frequency."""
    spectrum = np.fft.rfft(sound)
    spectrum[..., : int(hertz * sound.shape[-1] / RATE)] = 0
    return np.fft.irfft(spectrum, sound.shape[-1])
