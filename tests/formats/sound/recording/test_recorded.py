"""Recordings: as loud as they should be, with clicks where they belong, never clipped, whatever is played."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pyloudnorm
import pytest
from attrs import evolve
from heard import RATE, partial_level, playback_of, played_file
from places import EXAMPLES
from reading_through import reading_of
from timeline_lessons import HEAD

from fretloom.formats.sound.choice import SoundOptions, chosen_playback
from fretloom.formats.sound.recording.level import Level, level_of
from fretloom.formats.sound.recording.recorded import RecordingPlan, recorded
from fretloom.performance.playback.sounds import BarTime, Playback

PLAIN = "O { p6 m2 , i3 , p4+m2 , i3 a1 }"


def sound_of(playback: Playback, settings: object, **how: object) -> np.ndarray:
    recording = recorded(playback, settings, RecordingPlan(**how))  # type: ignore[arg-type]
    sound = np.concatenate([np.zeros((2, 0), np.float32), *recording.chunks], axis=1)
    assert sound.shape == (2, recording.frames)
    assert np.isfinite(sound).all()
    assert np.abs(sound).max(initial=0) < 10 ** (-1 / 20)
    return sound


def true_peak(sound: np.ndarray) -> float:
    size = 1 << 21
    return float(np.abs(np.fft.irfft(np.fft.rfft(sound, size // 4), size)).max() * 4)


@pytest.mark.parametrize("name", ["lock-keepers-lamp", "ferry-at-the-weir"])
def test_a_lesson_is_as_loud_as_it_should_be(name: str) -> None:
    """-18 LUFS within 0.2 (pyloudnorm, BS.1770-4), no true peak over -1 dB."""
    sound = sound_of(*played_file(EXAMPLES / f"{name}.lesson"))
    loudness = pyloudnorm.Meter(RATE).integrated_loudness(sound.T.astype(float))
    assert loudness == pytest.approx(-18, abs=0.2)
    assert true_peak(sound[0, : 1 << 19]) < 10 ** (-1 / 20)


def test_all_loops_of_a_lesson_share_one_level() -> None:
    """With the lesson's level a soft loop stays soft; alone it is as loud as the lesson."""
    soft, settings = playback_of("O { m2.ghost , i3.ghost , - , - }", "tempo 100")
    whole, _ = playback_of(f"{PLAIN} | {PLAIN}", "tempo 100")
    level = level_of(whole, settings)
    shared = sound_of(soft, settings, level=level, loop=True)
    alone = sound_of(soft, settings, loop=True)
    meter = pyloudnorm.Meter(RATE)
    assert meter.integrated_loudness(alone.T.astype(float)) == pytest.approx(-18, abs=0.5)
    assert meter.integrated_loudness(shared.T.astype(float)) < -24
    twice = sound_of(whole, settings, level=Level(level.gain / 2))
    assert np.abs(2 * twice - sound_of(whole, settings, level=level)).max() < 1e-4


def test_a_loop_is_exactly_as_long_as_its_beats_and_has_no_seam() -> None:
    """Also after its peaks were held down: what is before its end goes on at its beginning."""
    playback, settings = playback_of(PLAIN, "tempo 97")
    sound = sound_of(playback, settings, loop=True, level=Level(6.0))
    assert sound.shape[1] == round(Fraction(60, 97) * 4 * RATE)
    steps = np.abs(np.diff(sound, axis=1))
    assert np.abs(sound[:, 0] - sound[:, -1]).max() <= np.quantile(steps, 0.995)


def counted_in(playback: Playback) -> Playback:
    """Return a playback whose second bar is silent and only counted."""
    first, second = playback.bars
    silent = BarTime(start=second.start, end=second.end, counts=second.counts, played=None)
    sounds = tuple(one for one in playback.sounds if one.bar == 0)
    return evolve(playback, bars=(first, silent), sounds=sounds)


@pytest.mark.parametrize(
    ("clicks", "heard"),
    [("count-in", [False, True]), ("always", [True, True]), ("never", [False, False])],
)
def test_the_beat_is_clicked_where_it_is_asked_for(clicks: str, heard: list[bool]) -> None:
    """Each beat of a bar that is counted in, of all bars, or of none; the first of a bar is higher."""
    playback, settings = playback_of("O { p6 , - , - , - } | O { p6 , - , - , - }", "tempo 60")
    sound = sound_of(counted_in(playback), settings, clicks=clicks, level=Level(0.02))
    for beat in range(8):
        hertz = 1600 if beat % 4 else 2100
        there = partial_level(sound, hertz, beat + 0.001, beat + 0.03)
        after = partial_level(sound, hertz, beat + 0.4, beat + 0.43)
        assert (there > after + 15 and there > -50) == heard[beat // 4], beat


def test_clicks_alone_have_a_level_of_their_own() -> None:
    """They are as loud without the guitar, and nothing else is heard."""
    playback, settings = playback_of(PLAIN, "tempo 60")
    both = sound_of(playback, settings, clicks="always", level=Level(1.0))
    alone = sound_of(playback, settings, clicks="always", strings=False)
    guitar = sound_of(playback, settings, clicks="never", level=Level(1.0))
    assert np.abs(both - guitar - alone).max() < 1e-4
    assert 0.05 < np.abs(alone).max() < 0.3
    assert not alone[:, int(0.2 * RATE) : int(0.9 * RATE)].any()


def test_a_click_is_whole_where_one_chunk_ends_and_the_next_begins() -> None:
    """All clicks of a minute are the same, but for parts of a sample."""
    playback, settings = playback_of(" | ".join(["O { p6 , - , - , - }"] * 12), "tempo 62")
    alone = sound_of(playback, settings, clicks="always", strings=False)[0]
    starts = [int(beat * 60 / 62 * RATE) for beat in range(48)]
    powers = [float(np.sum(alone[at : at + 2700].astype(float) ** 2)) for at in starts]
    for beat, power in enumerate(powers):
        assert power == pytest.approx(powers[1 if beat % 4 else 0], rel=0.05), beat


@pytest.mark.parametrize(
    ("bars", "fields", "frets"),
    [
        ("O { i1@24 , p6@20s24 , i1@24.bend-two , m1@0h24p0 }", ("capo 12", "tempo 400"), "000000"),
        ("O { p6 , - , - , a1.vibrato }", ("tempo 10", "capo 24"), "000000"),
        (
            "O { (p i m a)! , (slow p i m a) , p12 , slap! }",
            ("tuning E1 A1 D2 G2 B2 E3 A3 D4 G4 B4 E5 A5",),
            "0" * 12,
        ),
        ("O { i1 , i2 , i3 , p }", ("tuning C0 G9 G9", "tempo 300"), "000"),
        ("O { i1@12* , i2@7* , i3@5* , p4@3* }", ("tuning G9 G9 G9 G9", "scale 900 mm"), "0000"),
        ("O { p6x! , p6x , p5.ghost , a1@1.trill-2 }", ("tempo 300", "tuning 12-string"), "000000"),
        ("O { r , r , r , r }", ("tempo 60",), "000000"),
    ],
)
def test_nothing_that_is_played_breaks_a_recording(
    bars: str, fields: tuple[str, ...], frets: str
) -> None:
    """Frets, tunings and tempos beyond any guitar: finite, not clipped, as long as it says."""
    playback, settings = playback_of(bars, *fields, frets=frets)
    sound_of(playback, settings)
    sound_of(playback, settings, loop=True, clicks="always")


def test_nothing_played_is_silence() -> None:
    """A playback without bars has a moment of silence, and a loop of it nothing."""
    playback, settings = playback_of(PLAIN)
    empty = evolve(playback, bars=(), sounds=(), slaps=(), end=Fraction(0))
    assert not sound_of(empty, settings).any()
    assert sound_of(empty, settings, loop=True).shape == (2, 0)


@pytest.mark.parametrize(
    "options", [{"count_in": True, "tempos": (80, 100)}, {"answer": True, "times": 2}]
)
def test_nothing_rings_into_a_count_or_a_silence_for_the_student(
    options: dict[str, object],
) -> None:
    """A quarter of a second after its beginning it is 40 dB below what sounds."""
    reading = reading_of(
        HEAD.format(fields="  tempo 100\n") + "section verse using plain\n  E | A\n"
    )
    playback = chosen_playback(reading, SoundOptions(**options))  # type: ignore[arg-type]
    sound = sound_of(playback, reading.timeline.settings, clicks="never")
    starts = [bar for place, bar in enumerate(playback.bars) if bar.silent and place]
    assert starts
    for bar in starts:
        begin = int((playback.clock.seconds(bar.start) + Fraction(1, 4)) * RATE)
        end = int((playback.clock.seconds(bar.end) - Fraction(1, 20)) * RATE)
        assert np.abs(sound[:, begin:end]).max() < np.abs(sound).max() / 100
