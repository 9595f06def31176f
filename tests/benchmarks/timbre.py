"""Compares single notes with those of a General MIDI soundfont: loudness, attack, brightness over time, decay.

    python tests/benchmarks/timbre.py [INSTRUMENT [PROGRAM]]

Programs of General MIDI count from 0 here: 25 is the steel-string guitar, 24 the nylon one. It needs fluidsynth and
FluidR3 (Debian: fluidsynth, fluid-soundfont-gm), and mido. Nobody listens to it here: these are measures that go with
what is heard. Brightness is the centroid of the spectrum, in Hz, by amplitude; decay the time to -60 dB of partials
1, 2, 4 and 8, by a line through their level down to -35 dB.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
import wave
from pathlib import Path

import mido
import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

from heard import RATE, heard, playback_of

FONT = Path("/usr/share/sounds/sf2/FluidR3_GM.sf2")
NOTES = ((6, 0, "p"), (6, 3, "p"), (5, 0, "p"), (4, 2, "p"), (3, 0, "i"), (2, 3, "m"), (1, 0, "a"), (1, 5, "a"), (1, 12, "a"))  # fmt: skip
SECONDS = 4


def ours(string: int, fret: int, finger: str, instrument: str) -> tuple[np.ndarray, int]:
    fields = ("tempo 60", *((f"instrument {instrument}",) if instrument else ()))
    playback, settings = playback_of(f"O {{ {finger}{string}@{fret} , - , - , - }}", *fields)
    return heard(playback, settings).mean(axis=0)[: SECONDS * RATE], int(playback.sounds[0].midi)


def theirs(midi: int, program: int) -> np.ndarray:
    track = mido.MidiTrack()
    track.append(mido.Message("program_change", program=program))
    track.append(mido.Message("note_on", note=midi, velocity=86))
    track.append(mido.Message("note_off", note=midi, time=960 * SECONDS))
    file = mido.MidiFile(ticks_per_beat=480)
    file.tracks.append(track)
    with tempfile.TemporaryDirectory() as folder:
        score, sound = Path(folder) / "note.mid", Path(folder) / "note.wav"
        file.save(score)
        command = ["fluidsynth", "-niq", "-R", "0", "-C", "0", "-r", str(RATE), "-F", str(sound)]
        subprocess.run([*command, str(FONT), str(score)], check=True, capture_output=True)
        with wave.open(str(sound)) as read:
            data = np.frombuffer(read.readframes(read.getnframes()), "<i2").reshape(-1, 2)
    samples = data.mean(axis=1) / 32768
    first = int(np.argmax(np.abs(samples) > 1e-3 * np.abs(samples).max()))
    return samples[first : first + SECONDS * RATE]


def attack(sound: np.ndarray) -> float:
    """Return the milliseconds from a tenth to nine tenths of the first peak of the envelope."""
    window = np.hanning(221)
    level = np.convolve(np.abs(sound[: RATE // 2]), window / window.sum(), "same")
    peak = int(np.argmax(level))
    first, last = (np.argmax(level > share * level[peak]) for share in (0.1, 0.9))
    return float(last - first) / RATE * 1000


def brightness(sound: np.ndarray, start: float, end: float) -> float:
    some = sound[int(start * RATE) : int(end * RATE)]
    spectrum = np.abs(np.fft.rfft(some * np.hanning(len(some))))
    return float((spectrum * np.fft.rfftfreq(len(some), 1 / RATE)).sum() / spectrum.sum())


def decay(sound: np.ndarray, hertz: float) -> float:
    turned = sound * np.exp(-2j * np.pi * hertz * np.arange(len(sound)) / RATE)
    window = np.hanning(8820)
    places = np.arange(0, len(sound) - 8820, 2205)
    level = 20 * np.log10([abs(np.sum(turned[at : at + 8820] * window)) + 1e-12 for at in places])
    after = np.arange(len(level)) >= np.argmax(level)
    chosen = after & (level > level.max() - 35)
    slope = np.polyfit(places[chosen] / RATE, level[chosen], 1)[0] if chosen.sum() > 3 else 0
    return float(-60 / slope) if slope < 0 else float("inf")


def main(instrument: str, program: int) -> None:
    print(
        "string/fret   attack ms   brightness at 0.05, 0.3, 1.2 s   -60 dB in s: partials 1, 2, 4, 8"
    )
    for string, fret, finger in NOTES:
        mine, midi = ours(string, fret, finger, instrument)
        hertz = 440 * 2 ** ((midi - 69) / 12)
        for name, sound in (("ours", mine), ("font", theirs(midi, program))):
            bright = [brightness(sound, at - 0.05, at + 0.05 + at / 10) for at in (0.05, 0.3, 1.2)]
            falls = [decay(sound, hertz * number) for number in (1, 2, 4, 8)]
            print(
                f"{string}/{fret:<3} {name}   {attack(sound):9.1f}   {' '.join(f'{one:8.0f}' for one in bright)}"
                f"      {' '.join(f'{one:6.1f}' for one in falls)}"
            )


if __name__ == "__main__":
    main(sys.argv[1] if len(sys.argv) > 1 else "", int(sys.argv[2]) if len(sys.argv) > 2 else 25)
