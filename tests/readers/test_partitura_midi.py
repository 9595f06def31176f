"""partitura reads from our MIDI what is played: ticks, seconds, pitches and loudness."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

import pytest
from places import EXAMPLES

from fretloom.api import examine, load
from fretloom.formats.sound.midi.document import write
from fretloom.formats.sound.midi.options import MidiOptions
from fretloom.performance.playback.play import play

partitura = pytest.importorskip(
    "partitura", reason="partitura is not installed: pip install -e '.[readers]'"
)
pytestmark = pytest.mark.filterwarnings("ignore")
LESSONS = sorted(EXAMPLES.glob("*.lesson"))


@pytest.mark.parametrize("file", LESSONS, ids=lambda file: file.stem)
def test_every_pluck_is_read(file, tmp_path):
    """At its tick, and at its second to a tenth of a millisecond."""
    reading = examine(load(file)).reading
    path = tmp_path / "lesson.mid"
    path.write_bytes(write(reading, MidiOptions())[0].data)
    read = [
        (
            int(note["onset_tick"]),
            int(note["pitch"]),
            int(note["velocity"]),
            float(note["onset_sec"]),
        )
        for part in partitura.load_performance_midi(path).performedparts
        for note in part.note_array()
    ]
    playback = play(reading.timeline.bars, reading.timeline.settings)
    plucked = Counter(
        (int(sound.at * 10_080 + Fraction(1, 2)), round(sound.midi), sound.loudness)
        for sound in playback.sounds
    )
    assert not plucked - Counter(note[:3] for note in read)
    seconds = {note[0]: note[3] for note in read}
    for sound in playback.sounds:
        tick = int(sound.at * 10_080 + Fraction(1, 2))
        assert seconds[tick] == pytest.approx(float(playback.clock.seconds(sound.at)), abs=2e-4)
