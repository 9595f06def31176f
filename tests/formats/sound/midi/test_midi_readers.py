"""mido and music21 read from our files what is played."""

from __future__ import annotations

import io
from collections import Counter
from fractions import Fraction
from pathlib import Path

import mido
import pytest
from places import EXAMPLES

from fretloom.api import examine, load
from fretloom.formats.sound.midi.document import write
from fretloom.formats.sound.midi.options import MidiOptions
from fretloom.performance.playback.play import play
from fretloom.performance.playback.sounds import Playback

LESSONS = sorted(EXAMPLES.glob("*.lesson"))


def file_of(lesson: Path) -> tuple[bytes, Playback]:
    """Return the MIDI of a lesson, and what is heard of it."""
    reading = examine(load(lesson)).reading
    timeline = reading.timeline
    return write(reading, MidiOptions())[0].data, play(timeline.bars, timeline.settings)


def plucked(playback: Playback) -> Counter[tuple[Fraction, int]]:
    """Return when strings are plucked, to a tick, and the nearest key of each."""
    return Counter(
        (Fraction(int(sound.at * 10_080 + Fraction(1, 2)), 10_080), round(sound.midi))
        for sound in playback.sounds
    )


@pytest.mark.parametrize("lesson", LESSONS, ids=lambda lesson: lesson.stem)
def test_mido_reads_every_pluck_tempo_and_meter(lesson: Path) -> None:
    """And as much more as hammer-ons, pull-offs, slides and slaps come to."""
    data, playback = file_of(lesson)
    read = mido.MidiFile(file=io.BytesIO(data), charset="utf8")
    assert (read.type, read.ticks_per_beat) == (1, 10_080)
    heard: Counter[tuple[Fraction, int]] = Counter()
    tempos, names = [], []
    for track in read.tracks:
        now = 0
        names.append(track.name)
        for message in track:
            now += message.time
            if message.type == "note_on" and message.channel != 9:
                heard[Fraction(now, 10_080), message.note] += 1
            if message.type == "set_tempo":
                tempos.append((Fraction(now, 10_080), message.tempo))
    struck = sum(
        move.kind in ("hammer-on", "pull-off")
        or (move.kind == "slide" and move.until < sound.until)
        for sound in playback.sounds
        for move in sound.moves
    )
    assert not plucked(playback) - heard
    assert heard.total() == len(playback.sounds) + struck
    assert tempos == [
        (span.start, round(60_000_000 / span.quarters)) for span in playback.clock.spans
    ]
    assert names[0] == load(lesson).title
    assert names[1:3] == ["Thumb", "Fingers"]


@pytest.mark.parametrize("lesson", LESSONS[::3], ids=lambda lesson: lesson.stem)
def test_music21_reads_every_pluck(lesson: Path) -> None:
    """It is asked for the events of the file, since its scores are moved to a grid."""
    from music21.midi import ChannelVoiceMessages, MidiFile

    data, playback = file_of(lesson)
    read = MidiFile()
    read.readstr(data)
    heard: Counter[tuple[Fraction, int]] = Counter()
    for track in read.tracks:
        now = 0
        for event in track.events:
            if event.isDeltaTime():
                now += event.time
            elif event.type == ChannelVoiceMessages.NOTE_ON and event.channel != 10:
                heard[Fraction(now, read.ticksPerQuarterNote), event.pitch] += 1
    assert not plucked(playback) - heard
