"""Recordings for practice: one for each step and one of the song, all at one level."""

from __future__ import annotations

import io
import re
import wave
from typing import Any

import numpy as np
import pytest
import soundfile
from reading_through import reading_of
from timeline_lessons import HEAD

from fretloom.errors import FretloomError
from fretloom.formats.sound.by_step import practice_recordings
from fretloom.formats.sound.recording.options import RecordingOptions

BODY = """
section verse using pinched "Verse"
  E | A

step "The picking"
  show pattern pinched over E from 100 to 120

step "What is read only"
  Think of the river.

step "All of it"
  show form from 110 to 120
"""


def made(text: str = BODY, **options: Any) -> dict[str, np.ndarray]:
    reading = reading_of(HEAD.format(fields="  tempo 120\n") + text)
    found = {}
    for output in practice_recordings(reading, RecordingOptions(**options), "wav"):
        with wave.open(io.BytesIO(output.data)) as file:
            frames = np.frombuffer(file.readframes(file.getnframes()), "<i2")
            found[output.name] = frames.reshape(-1, 2)
    return found


def loudness(sound: np.ndarray) -> float:
    """The level of what is heard in decibels, silence left out."""
    power = (sound.astype(float) ** 2).mean(axis=1)
    return float(10 * np.log10(power[power > 1].mean()))


def test_a_recording_for_each_step_that_is_heard_and_one_of_the_song():
    names = list(made(tempos=(400,), heard="thumb"))
    assert names == ["weir.step-1.wav", "weir.step-3.wav", "weir.whole-song.wav"]


def test_what_was_chosen_is_one_recording():
    assert list(made(bars="1")) == ["weir.1.wav"]
    assert list(made(section="verse", heard="thumb")) == ["weir.verse.thumb.wav"]
    assert list(made(step="1", tempos=(400, 300))) == ["weir.step-1.400-300.wav"]
    assert list(made(section="verse", bars="1-2", percent=150)) == [
        "weir.verse-1-2.150-percent.wav"
    ]


def test_a_part_has_the_level_of_the_lesson():
    """The thumb alone is softer than both by some 3 dB, and no part of it is made louder."""
    both, thumb = (next(iter(made(bars="1", heard=heard).values())) for heard in ("both", "thumb"))
    assert loudness(both) - loudness(thumb) > 1.5


def test_a_recording_is_as_long_as_its_bars_at_their_tempos():
    """One bar of 4/4 at 120 and one at 60, each counted in, and some seconds in which it dies away."""
    (sound,) = made(bars="1", tempos=(120, 60), count_in=True).values()
    assert 2 * (2 + 4) + 2 <= len(sound) / 44100 <= 2 * (2 + 4) + 12


def test_captions_go_with_each_recording():
    """The second caption is the bar behind the count, at the second of the two tempos as well."""
    reading = reading_of(HEAD.format(fields="  tempo 120\n") + BODY)
    options = RecordingOptions(bars="2", tempos=(120, 60), count_in=True)
    sound, captions, chapters = practice_recordings(reading, options, "wav", captions=True)
    assert [one.name for one in (sound, captions, chapters)] == [
        "weir.2.120-60.wav", "weir.2.120-60.vtt", "weir.2.120-60.chapters.vtt",
    ]  # fmt: skip
    assert re.findall(r"^[\d:.]+ --> [\d:.]+$", captions.text, re.M) == [
        "00:00:00.000 --> 00:00:02.000",
        "00:00:02.000 --> 00:00:04.000",
        "00:00:04.000 --> 00:00:08.000",
        "00:00:08.000 --> 00:00:12.000",
    ]


def test_a_lesson_without_bars_has_no_recordings():
    with pytest.raises(FretloomError, match="nothing is played"):
        made("")


def test_players_show_what_a_file_is_and_in_which_order_it_comes():
    reading = reading_of(HEAD.format(fields="  tempo 400\n") + BODY)
    outputs = practice_recordings(reading, RecordingOptions(tempos=(400,)), "flac")
    with_tags = [soundfile.SoundFile(io.BytesIO(one.data)) for one in outputs]
    assert [(one.tracknumber, one.title, one.album) for one in with_tags] == [
        ("1", "1. The picking", "Test"), ("2", "3. All of it", "Test"), ("3", "Test", "Test"),
    ]  # fmt: skip


def test_files_of_many_steps_stand_in_their_order():
    steps = "".join(
        f'\nstep "S{number}"\n  show bars 1-2 of verse at 120\n' for number in range(10)
    )
    names = planned("  tempo 120\n", "section verse using plain\n  E | A\n" + steps)
    assert names == sorted(names) and names[0] == "weir.step-01.wav"


def planned(fields: str, text: str) -> list[str]:
    reading = reading_of(HEAD.format(fields=fields) + text)
    found = practice_recordings(reading, RecordingOptions(), "wav")
    return [output.name for output in found]


LONG = """
section verse using bassline "Verse"
  E x60

form
  verse x8

step "All of it"
  show form from 100 to 130
"""


def test_a_step_that_takes_long_is_a_recording_for_each_of_its_tempos():
    """480 bars at 130 last almost 15 minutes."""
    assert planned("  tempo 130\n", LONG) == [
        "weir.step-1.at-100.wav", "weir.step-1.at-110.wav", "weir.step-1.at-120.wav",
        "weir.step-1.at-130.wav", "weir.whole-song.wav",
    ]  # fmt: skip


def test_what_would_be_too_long_is_refused_before_anything_is_made():
    with pytest.raises(
        FretloomError, match=r"30 minutes at most, and 1\. All of it, 40 would last"
    ):
        planned("  tempo 130\n", LONG.replace("from 100", "from 40"))
    steps = "".join(f'\nstep "S{number}"\n  show form at 100\n' for number in range(20))
    with pytest.raises(FretloomError, match="more than 240 minutes together"):
        planned("  tempo 130\n", LONG + steps)


def test_a_recording_can_be_read_again():
    reading = reading_of(HEAD.format(fields="  tempo 400\n") + BODY)
    (output,) = practice_recordings(reading, RecordingOptions(bars="1"), "wav")
    assert output.data == output.data != b""


def test_an_unknown_kind_is_refused():
    reading = reading_of(HEAD.format(fields="") + BODY)
    with pytest.raises(FretloomError, match="one of ogg, flac, wav, not 'mp9'"):
        practice_recordings(reading, RecordingOptions(), "mp9")
