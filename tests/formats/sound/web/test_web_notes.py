"""The notes of a page are those of the playback: nothing is lost, added or moved."""

from __future__ import annotations

import json
from itertools import pairwise

import pytest
from heard import playback_of, played_file
from places import EXAMPLES
from web_sound import decoded, page_of_sound

from fretloom.formats.sound.ticks import tick
from fretloom.formats.sound.web.notes import NotePool, Rows, rounded
from fretloom.performance.playback.play import play

PATHS = sorted(EXAMPLES.glob("*.lesson"))


@pytest.mark.parametrize("path", PATHS, ids=lambda one: one.stem)
def test_every_string_is_plucked_and_stops_when_the_playback_says(path) -> None:
    """Within a tenth of a millisecond: a tick at the slowest tempo of the examples."""
    playback, settings = played_file(path)
    page = page_of_sound(playback, settings)
    notes = sorted(decoded(page), key=lambda one: (one[0], one[2][0]))
    sounds = sorted(
        playback.sounds, key=lambda one: (playback.clock.seconds(one.at), one.string * 2 + one.mate)
    )
    assert len(notes) == len(sounds)
    seconds = playback.clock.seconds
    for (start, end, kind), sound in zip(notes, sounds, strict=True):
        assert abs(start - seconds(sound.at)) < 1e-4
        assert abs(end - seconds(sound.until)) < 2e-4
        assert kind[0] == sound.string * 2 + sound.mate
        assert (kind[3], kind[4], kind[6]) == (sound.note.finger, sound.loudness, sound.ends[0])
        if len(kind) == 7 or kind[7] == 1:
            assert kind[1] == pytest.approx(float(sound.midi), abs=1e-4)


@pytest.mark.parametrize("path", PATHS, ids=lambda one: one.stem)
def test_a_lesson_takes_few_bytes(path) -> None:
    """15,000 characters at most for the notes of the song."""
    page = page_of_sound(*played_file(path))
    del page["guitar"]
    assert len(json.dumps(page, separators=(",", ":"))) < 15_000


def test_a_song_that_is_played_again_and_again_takes_a_number_a_bar_more() -> None:
    once = page_of_sound(*playback_of("O x2"))
    often = page_of_sound(*playback_of("O x64"))
    assert len(often["plays"][0]["bars"]) == 64
    # The first bar, those in the middle, and the last, which dies away.
    assert len(often["bars"]) <= len(once["bars"]) + 1
    assert len(often["kinds"]) <= len(once["kinds"]) + 4


def test_moves_harmonics_and_slaps_are_there() -> None:
    playback, settings = playback_of("O { i3@2h4 , a3@12* , m2@3.vibrato , slap }", "tempo 60")
    page = page_of_sound(playback, settings)
    hammered, harmonic, vibrates = (kind for _, _, kind in decoded(page))
    assert hammered[7:] == [1, 0, 0, "h", 5040, 5040, 4, 59]
    # An octave above the open string, G3: every second partial of a string at G3 (MIDI 55).
    assert (harmonic[1], harmonic[2], harmonic[7]) == (55, 0, 2)
    assert vibrates[7:] == [1, 0, 1]
    assert [one[4] for one in page["bars"]] == [[3 * 10080, 1, playback.slaps[0].loudness]]


def test_times_are_whole_ticks_and_numbers_short() -> None:
    playback, settings = playback_of("O { i3@2 , - , - , - }", "tempo 61")
    page = page_of_sound(playback, settings)
    assert all(type(one) is int for row in page["bars"] for one in row[3])
    assert [rounded(one) for one in (64.0, 0.123456)] == [64, 0.1235]
    assert tick(playback.bars[0].end) == 4 * 10080


def test_a_row_has_its_number_once() -> None:
    rows = Rows()
    assert [rows.number([1, "a"]), rows.number([2]), rows.number([1, "a"])] == [0, 1, 0]
    assert rows.rows == [[1, "a"], [2]]


def test_players_share_what_they_have_in_common() -> None:
    playback, settings = playback_of("O x4")
    pool = NotePool(settings)
    whole = pool.taken(playback)
    bars = [one.played for one in playback.bars if one.played is not None]
    part = pool.taken(play(bars[1:3], settings))
    assert len(whole) == 4
    assert part[0] == whole[1]
    assert all(before <= after for before, after in pairwise(sorted(whole)))
