"""A synthesiser plays our MIDI when the playback says: fluidsynth, with the soundfont of Debian's fluid-soundfont-gm.

Every instrument is exchanged for the woodblock of General MIDI (116), whose sound begins at once.
"""

from __future__ import annotations

import shutil
import subprocess
import wave
from pathlib import Path

import pytest
from places import EXAMPLES

from fretloom.api import examine, load
from fretloom.formats.sound.midi.document import write
from fretloom.formats.sound.midi.options import MidiOptions
from fretloom.performance.playback.play import play

np = pytest.importorskip("numpy")
SOUNDFONT = Path("/usr/share/sounds/sf2/FluidR3_GM.sf2")
pytestmark = pytest.mark.skipif(
    not (shutil.which("fluidsynth") and SOUNDFONT.exists()),
    reason="fluidsynth is not installed: apt install fluidsynth fluid-soundfont-gm",
)
RATE = 44_100


def heard(data: bytes, folder: Path):
    """Return how loud a MIDI file is above 2 kHz, sample by sample, without reverberation."""
    midi, sound = folder / "lesson.mid", folder / "lesson.wav"
    midi.write_bytes(data)
    options = ["-ni", "-g", "0.6", "-r", str(RATE), "-R", "0", "-C", "0", "-F", sound]
    subprocess.run(["fluidsynth", *options, SOUNDFONT, midi], check=True, capture_output=True)
    with wave.open(str(sound)) as read:
        samples = np.frombuffer(read.readframes(read.getnframes()), dtype=np.int16)
    mono = samples.reshape(-1, 2).mean(axis=1)
    spectrum = np.fft.rfft(mono)
    spectrum[np.fft.rfftfreq(len(mono), 1 / RATE) < 2000] = 0
    return np.convolve(np.abs(np.fft.irfft(spectrum, len(mono))), np.ones(44) / 44, "same")


@pytest.mark.parametrize("name", ["kiln-lane-shuffle", "slow-kettle-blues", "tuesday-rag"])
def test_onsets_are_heard_when_they_are_played(name, tmp_path):
    """99 of 100 within 3 ms of the median, where the last onset was more than 60 ms before."""
    reading = examine(load(EXAMPLES / f"{name}.lesson")).reading
    playback = play(reading.timeline.bars, reading.timeline.settings)
    data = bytearray(write(reading, MidiOptions())[0].data)
    for channel in range(16):
        at = 0
        while (at := data.find(bytes((0, 0xC0 | channel)), at)) >= 0:
            data[at + 2] = 115
            at += 2
    loud = heard(bytes(data), tmp_path)
    late, before = [], -1.0
    for onset in sorted({float(playback.clock.seconds(sound.at)) for sound in playback.sounds}):
        if onset - before > 0.06:
            begin = max(0, int((onset - 0.02) * RATE))
            part = loud[begin : int((onset + 0.04) * RATE)]
            quiet = np.median(part[:500]) if onset else 0.0
            rise = quiet + 0.2 * (part.max() - quiet)
            late.append((begin + int(np.argmax(part > rise))) / RATE - onset)
        before = onset
    off = np.abs(np.array(late) - np.median(late))
    assert len(late) > 100
    assert np.mean(off < 0.003) >= 0.99
