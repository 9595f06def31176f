"""The guitar as a whole: everything at its time, round and round in a loop, bars apart from one another."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest
from heard import RATE, decibels, heard, hertz_of, partial_level, playback_of, played_file, voices
from onsets import envelope, rise_near
from places import EXAMPLES

from fretloom.formats.sound.guitar.mixing import Mix
from fretloom.formats.sound.guitar.scoring import Guitarist
from fretloom.formats.sound.guitar.string.voice import StringVoice, sounded
from fretloom.values import evolve

PLAIN = "O { p6 m2 , i3 , p4+m2 , i3 a1 }"


@pytest.mark.parametrize("tempo", [40, 61, 97, 240])
def test_a_pluck_stands_at_its_time_between_samples(tempo: int) -> None:
    """Sample and part of a sample come to the exact time."""
    playback, settings = playback_of("O { p6 , - , i1 , - }", f"tempo {tempo}")
    player = Guitarist(playback, settings)
    for sound, voice in zip(playback.sounds, player.events(), strict=True):
        exact = playback.clock.seconds(sound.at) * RATE
        assert voice.start + voice.late == pytest.approx(float(exact), abs=1e-6)


def test_a_part_of_a_sample_is_heard() -> None:
    """The same pluck half a sample later is turned by half a sample at each of its partials."""
    playback, settings = playback_of("O { i1 , - , - , - }", "tempo 60")
    player = Guitarist(playback, settings)
    (voice,) = player.events()
    assert isinstance(voice, StringVoice)
    early, late = (sounded(evolve(voice, late=late), player.making) for late in (0.25, 0.75))
    times, window = np.arange(4096), np.hanning(4096)
    for number in range(1, 6):
        hertz = hertz_of(64) * number
        turn = window * np.exp(-2j * np.pi * hertz * times / RATE)
        angle = np.angle(np.sum(early[2000:6096] * turn) / np.sum(late[2000:6096] * turn))
        assert angle * RATE / (2 * np.pi * hertz) == pytest.approx(0.5, abs=0.02)


def test_time_does_not_drift() -> None:
    """After ten minutes at an odd tempo a pluck is at its sample: times are exact to the end."""
    playback, settings = playback_of(f"repeat 250\n  {PLAIN}\n  end", "tempo 97")
    last = list(Guitarist(playback, settings).events())[-1]
    exact = Fraction(60, 97) * RATE * (4 * 250 - Fraction(1, 2))
    assert playback.seconds > 600
    assert last.start == int(exact)
    assert last.late == pytest.approx(float(exact - int(exact)))


@pytest.mark.parametrize("name", ["slow-kettle-blues", "tuesday-rag"])
def test_plucks_are_heard_where_they_are_played(name: str) -> None:
    """99 of 100 within 3 ms of the median, those that swing and those of rolls too, in the first 2**20 samples."""
    playback, settings = played_file(EXAMPLES / f"{name}.lesson")
    mix = Mix(playback, settings)
    found = envelope(np.concatenate(list(mix.between(0, 1 << 20)), axis=1))
    times = sorted({float(playback.clock.seconds(one.at)) for one in playback.sounds})
    times = [at for at in times if at < (1 << 20) / RATE - 0.1]
    rises = [(rise_near(found, at), at) for at in times]
    late = np.array([rise - at for rise, at in rises if rise is not None])
    assert len(times) > 30
    assert len(late) > 0.98 * len(times)
    assert np.mean(np.abs(late - np.median(late)) < 0.003) >= 0.99
    assert abs(np.median(late)) < 0.0006


def test_a_wrong_note_is_heard() -> None:
    """One fret too many in one bar: there the right pitch is missing, and elsewhere nothing has changed."""
    right = "O { p6 , i3@1 , p4 , i3@1 } | " * 3 + PLAIN
    wrong = right.replace("i3@1", "i3@2", 3).replace("i3@2", "i3@1", 2)
    sounds = [heard(*playback_of(one, "tempo 120")) for one in (right, wrong)]
    at = 2.5
    for midi, sound in ((56, sounds[0]), (57, sounds[1])):
        heard_there = partial_level(sound, hertz_of(midi), at + 0.05, at + 0.5)
        assert heard_there > partial_level(sound, hertz_of(113 - midi), at + 0.05, at + 0.5) + 20
    other = np.abs(sounds[0] - sounds[1]).max(axis=0) > 1e-4
    first, last = np.flatnonzero(other)[[0, -1]] / RATE
    assert at - 0.001 <= first < at + 0.01
    assert last < at + 1.6


def test_each_note_has_its_own_chance() -> None:
    """The same bar twice is not the same sound to the last bit, and the same lesson is."""
    playback, settings = playback_of(f"{PLAIN} | {PLAIN}", "tempo 120")
    sound = heard(playback, settings)
    assert np.array_equal(sound, heard(playback, settings))
    one, other = sound[:, : RATE // 4], sound[:, 2 * RATE : 2 * RATE + RATE // 4]
    assert np.abs(one - other).max() > 1e-3
    assert abs(decibels(one, 0, 0.25) - decibels(other, 0, 0.25)) < 3
    (_, first), *_, (_, again) = voices(*playback_of("O { p6 , - , - , - } | O { p6 , - , - , - }"))
    assert np.abs(first[:5000] - again[:5000]).max() > 1e-3


@pytest.mark.parametrize(
    "bars", [PLAIN, "O { p6 , - , - , - }", "O { p5x , slap , i3@2h4 , body-slap }"]
)
@pytest.mark.parametrize("tempo", [75, 360])
def test_a_loop_has_no_seam(bars: str, tempo: int) -> None:
    """It is as long as its beats, and the same as the middle one of three rounds."""
    playback, settings = playback_of(bars, f"tempo {tempo}")
    mix = Mix(playback, settings, loop=True)
    assert mix.beats == round(4 * 60 / Fraction(tempo) * RATE)
    one_round = np.concatenate(list(mix.between(0, mix.beats)), axis=1)
    assert one_round.shape == (2, mix.beats)
    before = np.concatenate(list(mix.between(-mix.beats, 2 * mix.beats)), axis=1)
    middle = before[:, mix.beats : 2 * mix.beats]
    assert np.abs(one_round - middle).max() < 1e-5
    seam = np.abs(one_round[:, 0] - one_round[:, -1]).max()
    steps = np.abs(np.diff(one_round, axis=1))
    assert seam <= np.quantile(steps, 0.995)


def test_a_loop_is_the_middle_of_a_long_piece() -> None:
    """A bar in a loop sounds as the third of five does, but for what is left to chance."""
    playback, settings = playback_of(PLAIN, "tempo 120")
    mix = Mix(playback, settings, loop=True)
    one_round = np.concatenate(list(mix.between(0, mix.beats)), axis=1)
    five = heard(*playback_of(" | ".join([PLAIN] * 5), "tempo 120"))
    for start in (0.0, 0.5, 1.0, 1.5):
        there = decibels(five, 4 + start, 4 + start + 0.4)
        assert abs(decibels(one_round, start, start + 0.4) - there) < 1.2


def test_in_a_loop_each_string_is_stopped_for_its_pluck_in_the_next_round() -> None:
    """The last note of each string does not ring into it."""
    playback, settings = playback_of("O { i3 p6 , p5 , - , a1 }", "tempo 120")
    ends = {
        one.seed: one.start + one.changes[-1].at
        for one in Guitarist(playback, settings, loop=True).events()
        if isinstance(one, StringVoice)
    }
    assert len(ends) == 4
    plucks = sorted(one.at for one in playback.sounds)
    for end, pluck in zip(sorted(ends.values()), plucks, strict=True):
        following = (playback.clock.seconds(pluck) + playback.seconds) * RATE
        assert following - 0.03 * RATE < end < following


def test_what_comes_in_chunks_is_one_sound() -> None:
    """Where one chunk ends and the next begins there is no step, and the whole is as long as it says."""
    playback, settings = playback_of("O { p6 , - , - , - }", "tempo 60")
    mix = Mix(playback, settings)
    chunks = list(mix.heard())
    assert sum(one.shape[1] for one in chunks) == mix.length
    steps = np.abs(np.diff(np.concatenate(chunks, axis=1), axis=1)).max(axis=0)
    edges = np.cumsum([one.shape[1] for one in chunks])[:-1]
    for edge in edges:
        assert steps[edge - 1] <= 1.01 * steps[edge - 200 : edge + 200].max()
    assert decibels(np.concatenate(chunks, axis=1)[:, -441:], 0, 0.01) < -85


def test_both_strings_of_a_course_are_heard() -> None:
    """The octave of a low string, and two of one pitch that beat slowly."""
    playback, settings = playback_of(
        "O { p6 , - , - , - }", "tempo 60", "tuning 12-string", frets="000000"
    )
    second, first = voices(playback, settings)  # The thumb meets the octave first.
    assert second[0].cents > 1
    octave = 2 * hertz_of(40) * 2 ** (second[0].cents / 1200)
    assert (
        partial_level(second[1], octave, 0.1, 0.6) > partial_level(first[1], octave, 0.1, 0.6) - 6
    )
    assert partial_level(second[1], hertz_of(40), 0.1, 0.6) < -80
    assert second[0].force == pytest.approx(0.8 * first[0].force)
    assert first[0].start - second[0].start in range(300, 700)


def test_low_strings_are_heard_a_little_more_on_one_side() -> None:
    """A little: less than 4 dB."""
    shares = []
    for pluck in ("p6", "a1"):
        left, right = heard(*playback_of(f"O {{ {pluck} , - , - , - }}", "tempo 60"))
        shares.append(decibels(left, 0, 0.5) - decibels(right, 0, 0.5))
    assert 0.5 < shares[0] < 4
    assert -4 < shares[1] < -0.5


def test_slaps_have_no_pitch_and_end_soon() -> None:
    """On the strings they are brighter than on the body."""
    sounds = [
        heard(*playback_of(f"O {{ {one} , - , - , - }}", "tempo 60"))
        for one in ("slap", "body-slap")
    ]
    for sound in sounds:
        assert decibels(sound, 0.35, 0.45) < decibels(sound, 0.0, 0.05) - 30
    highs = [partial_level(one, 4000, 0, 0.02) - partial_level(one, 150, 0, 0.1) for one in sounds]
    assert highs[0] > highs[1] + 6
