"""A page plays about as loud as a recording."""

from __future__ import annotations

import math

import pytest
from heard import playback_of, played_file
from places import EXAMPLES

from fretloom.formats.sound.recording.level import level_of
from fretloom.formats.sound.web.level import gain_of

PATHS = sorted(EXAMPLES.glob("*.lesson"))


@pytest.mark.parametrize("path", PATHS, ids=lambda one: one.stem)
def test_an_example_comes_within_a_decibel_and_a_half_of_its_recording(path) -> None:
    """Which is -18 LUFS after ITU-R BS.1770-4."""
    playback, settings = played_file(path)
    ours, theirs = gain_of(playback, settings), level_of(playback, settings).gain
    assert abs(20 * math.log10(ours / theirs)) < 1.5


@pytest.mark.parametrize(
    ("instrument", "tuning", "frets"),
    [
        ("classical", "", "022100"),
        ("electric", "", "022100"),
        ("12-string", "", "022100"),
        ("tenor ukulele", "tuning G4 C4 E4 A4", "0003"),
        ("octave mandolin", "tuning G2 D3 A3 E4", "5230"),
    ],
)
def test_other_instruments_come_as_near(instrument: str, tuning: str, frets: str) -> None:
    fields = (f"instrument {instrument}", "tempo 90", *filter(None, [tuning]))
    playback, settings = playback_of("O { p4 m1 , i2 , p3 , a1 } x6", *fields, frets=frets)
    ours, theirs = gain_of(playback, settings), level_of(playback, settings).gain
    assert abs(20 * math.log10(ours / theirs)) < 2.5


def test_silence_is_not_made_louder() -> None:
    playback, settings = playback_of("O { - , - , - , - }", "tempo 90")
    assert not playback.sounds
    assert gain_of(playback, settings) == 1.0


def test_what_is_meant_to_be_nearly_silent_stays_so() -> None:
    playback, settings = playback_of(
        "O { p6.ghost.for-1/4 , - , - , - } | rest x40", "tempo 20", "dynamic ppp"
    )
    assert gain_of(playback, settings) <= 100
