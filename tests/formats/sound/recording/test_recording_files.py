"""Recordings as files: read back by others, piece by piece, and refused with a word where they cannot be."""

from __future__ import annotations

import errno
import io
import sys
import wave
from collections.abc import Iterable
from fractions import Fraction

import numpy as np
import pytest
import soundfile
from places import EXAMPLES

from fretloom.api import examine, load, loads
from fretloom.errors import FretloomError
from fretloom.formats.shape import Output
from fretloom.formats.sound.recording import coded, recorded
from fretloom.formats.sound.recording.lasting import refuse_too_long
from fretloom.formats.sound.recording.wav import left_out_of
from fretloom.formats.table import format_named
from fretloom.limits import LIMITS
from fretloom.performance.playback.play import play

LESSON = EXAMPLES / "ferry-at-the-weir.lesson"
SHORT = 'lesson "T"\n  tempo {tempo}\nvoicings\n  E 022100\npatterns\n  t p , p , p , p\nsection s using t\n  E x{bars}\n'


def output_of(name: str, text: str = "", **options: object) -> Output:
    lesson = loads(text) if text else load(LESSON)
    form = format_named(name)
    (output,) = form.write(examine(lesson).reading, form.chosen(options))
    return output


def test_a_wav_file_is_read_by_others() -> None:
    """16 bits, two channels, 44,100 a second, and the header tells the length."""
    output = output_of("wav")
    assert output.name == "ferry-at-the-weir.wav"
    data = output.data
    with wave.open(io.BytesIO(data)) as file:
        assert (file.getnchannels(), file.getsampwidth(), file.getframerate()) == (2, 2, 44100)
        frames = file.getnframes()
        samples = np.frombuffer(file.readframes(frames), "<i2").reshape(-1, 2)
    assert len(samples) == frames == (len(data) - 44) // 4
    again, rate = soundfile.read(io.BytesIO(data), dtype="int16")
    assert rate == 44100
    assert np.array_equal(again, samples)
    assert 3000 < np.abs(samples.astype(int)).max() < 32767 * 0.9


def test_a_file_comes_in_pieces() -> None:
    """None is larger than a second of sound, so that a long one takes no more memory."""
    content = output_of("wav").content
    assert isinstance(content, Iterable) and not isinstance(content, str | bytes)
    sizes = [len(piece) for piece in content]
    assert len(sizes) > 20
    assert max(sizes) <= 44100 * 4 + 44


@pytest.mark.parametrize("name", ["flac", "ogg"])
def test_the_other_files_hold_the_same_sound(name: str) -> None:
    """FLAC to the last bit; Vorbis as long, as loud, and an eighth of the size at most."""
    text = SHORT.format(tempo=120, bars=2)
    wav, data = output_of("wav", text).data, output_of(name, text).data
    original, _ = soundfile.read(io.BytesIO(wav))
    coded, rate = soundfile.read(io.BytesIO(data))
    assert rate == 44100
    assert coded.shape == original.shape
    if name == "flac":
        assert np.abs(coded - original).max() <= 1.01 / 32768
        assert len(data) < 0.7 * len(wav)
    else:
        assert np.sqrt(np.mean(coded**2)) == pytest.approx(np.sqrt(np.mean(original**2)), rel=0.02)
        assert len(data) < len(wav) / 8


def test_the_same_lesson_gives_the_same_file() -> None:
    """Byte for byte, on one machine."""
    text = SHORT.format(tempo=120, bars=1)
    for name in ("wav", "flac", "ogg"):
        assert output_of(name, text).data == output_of(name, text).data


def test_the_checksum_of_a_page_is_that_of_the_standard() -> None:
    """CRC-32 of polynomial 04C11DB7 from the highest bit on, from 0 (RFC 3533), reckoned bit by bit."""
    page = bytes(range(250))
    remainder = 0
    for byte in page:
        remainder ^= byte << 24
        for _ in range(8):
            remainder = (remainder << 1) ^ (0x104C11DB7 if remainder >> 31 else 0)
    assert coded.checksum(page) == remainder


class FullDisk(io.BytesIO):
    """A file on a disk without room."""

    def write(self, data: object) -> int:
        raise OSError(errno.ENOSPC, "No space left on device")


@pytest.mark.parametrize("name", ["wav", "flac", "ogg"])
def test_a_full_disk_is_one_message(
    monkeypatch: pytest.MonkeyPatch, name: str, capfd: pytest.CaptureFixture[str]
) -> None:
    """Where what waits cannot be kept; nothing is printed on the way."""
    module = recorded if name == "wav" else coded
    monkeypatch.setattr(module, "SpooledTemporaryFile", lambda max_size: FullDisk())
    with pytest.raises(
        FretloomError, match="no room for the sound on this disk: No space left on device"
    ):
        _ = output_of(name, SHORT.format(tempo=120, bars=1)).data
    assert capfd.readouterr() == ("", "")


def test_words_are_not_sung() -> None:
    """What is not heard is listed, and a lesson without words has nothing to list."""
    reading = examine(load(EXAMPLES / "lock-keepers-lamp.lesson")).reading
    assert [one.what for one in left_out_of(reading) if "sung" in one.what] == [
        "the words of the song, which are not sung"
    ]
    assert output_of("ogg", SHORT.format(tempo=120, bars=1)).left_out == ()


@pytest.mark.parametrize(
    ("name", "library", "words"),
    [
        (
            "wav",
            "numpy",
            "sound is made with numpy, which is not installed: install it with pip install 'fretloom[sound]'",
        ),
        (
            "flac",
            "soundfile",
            "FLAC files are written with soundfile, which is not installed: install it with pip install 'fretloom[sound]'",
        ),
        (
            "ogg",
            "soundfile",
            "Ogg files are written with soundfile, which is not installed: install it with pip install 'fretloom[sound]'",
        ),
    ],
)
def test_a_missing_library_is_named(
    monkeypatch: pytest.MonkeyPatch, name: str, library: str, words: str
) -> None:
    """One message, with what installs it."""
    monkeypatch.setitem(sys.modules, library, None)
    with pytest.raises(FretloomError) as raised:
        output_of(name)
    assert str(raised.value) == words


def test_a_recording_has_an_end_in_sight() -> None:
    """At the limit it is made, and beyond it nothing is, and the message says what to do."""
    most = LIMITS.minutes_of_sound
    for bars, refused in ((most * 15, False), (most * 15 + 1, True)):
        timeline = examine(loads(SHORT.format(tempo=60, bars=bars))).reading.timeline
        playback = play(timeline.bars, timeline.settings)
        assert (playback.seconds > Fraction(most * 60)) == refused
        if not refused:
            refuse_too_long(playback)
            continue
        with pytest.raises(
            FretloomError,
            match=f"{most} minutes at most, and this one would last {most + 1}: choose fewer bars",
        ):
            refuse_too_long(playback)
    with pytest.raises(FretloomError, match="minutes at most"):
        output_of("wav", SHORT.format(tempo=10, bars=2000))
