"""Strings as notes: what the fretting hand does, how loud, on which channel."""

from __future__ import annotations

from itertools import pairwise

import pytest
from midi_lessons import TICKS, bars, keys, left_out, midi_of
from midi_read import Read

BENT = "E {{ m2@3{} , - , p , - }}"


def bends(read: Read) -> list[tuple[float, float]]:
    """Return the bends as (quarter notes from the start, semitones), by the range that is set."""
    messages = read.merged()
    ranges = {one[2][2] for one in messages if one[2][0] >> 4 == 0xB and one[2][1] == 6}
    (semitones,) = ranges
    return [
        (tick / TICKS, (message[1] + 128 * message[2] - 8192) / 8192 * semitones)
        for tick, _, message in messages
        if message[0] >> 4 == 0xE
    ]


def test_hammer_ons_and_pull_offs_are_softer_notes_of_their_own() -> None:
    """Four fifths as loud as the pluck; the string sounds one note at a time."""
    read = midi_of(bars("E { - , i3@0h1p0 , - , - }"))
    notes = [note for note in read.notes() if note.channel != 10]
    assert [(note.start / TICKS, note.key, note.velocity) for note in notes] == [
        (1, 55, 80), (pytest.approx(4 / 3), 56, 64), (pytest.approx(5 / 3), 55, 64),
    ]  # fmt: skip
    assert [one.end for one in notes[:2]] == [one.start for one in notes[1:]]


def test_a_slide_bends_the_note_to_its_goal_where_another_begins() -> None:
    read = midi_of(bars("E { m2@3s5 , - , - , - }"))
    assert keys(read) == [(0, 62), (0.5, 64)]
    first, second = read.notes()
    assert first.channel != second.channel
    found = bends(read)
    assert found[-1] == (0.5, pytest.approx(2, abs=0.001))
    assert [semitones for _, semitones in found] == sorted(semitones for _, semitones in found)


def test_a_bend_begins_and_ends_slowly_and_says_nothing_twice() -> None:
    """After a tenth of its way in time it has come 28 thousandths of it: 3 / 100 - 2 / 1000."""
    found = bends(midi_of(bars(BENT.format(".bend-full"), "tempo 60")))
    steps = [round(semitones, 3) for _, semitones in found]
    assert len(steps) == 25
    assert steps[4] == pytest.approx(2 * (3 * 0.2**2 - 2 * 0.2**3), abs=0.002)
    assert all(one != other for one, other in pairwise(found))
    assert all(one != other for one, other in pairwise(steps))


def test_a_bend_stays_one_note() -> None:
    """Up a half tone, and down again."""
    read = midi_of(bars(BENT.format(".bend-half-release")))
    assert keys(read)[0] == (0, 62)
    found = bends(read)
    highest = max(semitones for _, semitones in found)
    assert highest == pytest.approx(1)
    assert found[-1][1] == 0
    assert len([note for note in read.notes() if note.key == 62]) == 1


def test_a_string_bent_before_it_is_plucked_begins_high() -> None:
    read = midi_of(bars(BENT.format(".prebend-full")))
    assert keys(read)[0] == (0, 64)


def test_a_quarter_bend_is_half_a_semitone() -> None:
    found = bends(midi_of(bars(BENT.format(".bend-quarter"))))
    assert found[-1][1] == pytest.approx(0.5)


def test_two_semitones_need_no_range_but_the_usual_one() -> None:
    """So that a player which does not know the range plays them right; more needs it."""
    usual = midi_of(bars(BENT.format(".bend-full")))
    wide = midi_of(bars(BENT.format(".bend-full-and-half")))
    assert bends(usual)[-1][1] == pytest.approx(2, abs=0.001)
    assert bends(wide)[-1][1] == pytest.approx(3, abs=0.001)
    ranges = [
        {one[2][2] for one in read.merged() if one[2][0] >> 4 == 0xB and one[2][1] == 6}
        for read in (usual, wide)
    ]
    assert ranges == [{2}, {12}]


def test_vibrato_is_that_of_our_own_guitar_and_comes_to_rest() -> None:
    """14 cents either way, 5.3 times a second, from 0.18 seconds on."""
    found = bends(midi_of(bars(BENT.format(".vibrato"), "tempo 60")))
    depths = [semitones for _, semitones in found]
    assert (max(depths), min(depths)) == (
        pytest.approx(0.14, abs=0.001), pytest.approx(-0.14, abs=0.001),
    )  # fmt: skip
    assert depths[-1] == 0
    tops = [at for at, semitones in found if semitones == max(depths)]
    assert tops[0] == pytest.approx(0.18 + 1 / 5.3 / 4, abs=0.001)
    assert tops[1] - tops[0] == pytest.approx(1 / 5.3, abs=0.001)


def test_notes_of_one_key_take_no_more_channels_than_they_need() -> None:
    """A twelve-string with unisons all over: the channels of thumb, fingers and second strings, and two more."""
    tuning = "tuning E2+E3 A2+A3 D3+D4 G3+G4 B3+B3 E4+E4"
    read = midi_of(bars("E { p6+m2@5+a1 , m2@5 , a1 , p6 } x8", "tempo 60", tuning))
    assert {note.channel for note in read.notes()} == {1, 2, 3, 4, 5}


def test_other_strings_are_not_bent_along() -> None:
    """A note that is bent has its channel for itself."""
    read = midi_of(bars("E { p6+m2@3.bend-full+a1 , p4 , p6+m2@3 , p4 }"))
    bent = {(message[0] & 15) + 1 for _, _, message in read.merged() if message[0] >> 4 == 0xE}
    assert [note.key for note in read.notes() if note.channel in bent] == [62]


def test_a_trill_is_as_many_notes_as_it_has_turns() -> None:
    read = midi_of(bars(BENT.format(".trill-5")))
    upper = [note for note in read.notes() if note.key == 64]
    assert len(upper) > 1
    assert {note.velocity for note in upper} == {round(86 * 0.8)}


def test_what_the_hand_does_to_a_dead_note_after_its_end_is_not_played() -> None:
    """A hammer-on half a beat after it."""
    read = midi_of(bars("E { i3@0h1x , - , - , - }", "tempo 60"))
    assert keys(read) == [(0, 55)]


def test_a_string_goes_over_from_the_thumb_to_a_finger_on_another_channel() -> None:
    """The second strings of both have one channel, and no end there is read after the start that it would stop."""
    tuning = "tuning E2+E3 A2+A3 D3+D4 G3+G4 B3+B3 E4+E4"
    read = midi_of(bars("E { i3 , p3 , i3 , p3 }", "tempo 60", tuning))
    assert len(read.notes()) == 8


def test_a_dead_note_is_short_and_muted() -> None:
    """On a channel with the sound that General MIDI numbers 29, electric guitar (muted)."""
    read = midi_of(bars("E { p6x , - , p6 , - }", "tempo 60"))
    dead = read.notes()[0]
    assert (dead.end - dead.start) / TICKS == pytest.approx(0.06, abs=1 / TICKS)
    programs = {one[2][0] & 15: one[2][1] + 1 for one in read.merged() if one[2][0] >> 4 == 0xC}
    assert programs[dead.channel - 1] == 29
    assert {number for channel, number in programs.items() if channel != dead.channel - 1} == {26}


def test_a_string_bent_by_a_quarter_before_it_is_plucked_has_its_own_key() -> None:
    """Of two keys that are as near it has the lower one, bent up."""
    read = midi_of(bars(BENT.format(".prebend-quarter")))
    assert keys(read)[0] == (0, 62)
    assert bends(read)[0] == (0, pytest.approx(0.5))


def test_thumb_and_fingers_have_tracks_and_channels_of_their_own() -> None:
    read = midi_of(bars("E { p6 , m2 , p4 , a1 }"))
    by_track = {}
    for note in read.notes():
        by_track.setdefault(note.track, set()).add((note.channel, note.key))
    assert by_track == {
        read.named("Thumb"): {(1, 40), (1, 52)},
        read.named("Fingers"): {(2, 59), (2, 64)},
    }


def test_two_strings_that_sound_the_same_do_not_end_one_another() -> None:
    """The end of one would end the other on the same channel."""
    read = midi_of(bars("E { m2@5+a1 , - , - , a1 }"))
    assert keys(read) == [(0, 64), (0, 64), (3, 64)]
    assert len({note.channel for note in read.notes()[:2]}) == 2


def test_both_strings_of_a_course_sound() -> None:
    """The octave of the thick ones, which the thumb meets first; the same note of the thin ones on another channel, a little later."""
    tuning = "tuning E2+E3 A2+A3 D3+D4 G3+G4 B3+B3 E4+E4"
    read = midi_of(bars("E { a1 , - , p6 , - }", "tempo 60", tuning))
    first, second, high, low = read.notes()
    assert (first.key, second.key, high.key, low.key) == (64, 64, 52, 40)
    assert first.channel != second.channel
    assert second.start / TICKS == pytest.approx(0.01, abs=1e-4)
    assert (high.start / TICKS, low.start / TICKS) == (2, pytest.approx(2.01, abs=1e-4))


def test_notes_sound_as_high_as_the_capo_makes_them() -> None:
    assert keys(midi_of(bars("E { p6 , - , - , - }", "capo 3"))) == [(0, 43)]


def test_more_strings_of_one_pitch_than_channels() -> None:
    """Twelve courses of two strings, all on one pitch: of 24 notes 15 have a channel, and it is said."""
    beats = (f"p{first} p{first - 1} p{first - 2}" for first in (12, 9, 6, 3))
    text = f"""\
lesson "Many"
  tuning {" ".join(["E4+E4"] * 12)}
voicings
  A  000000000000
section verse
  A {{ {" , ".join(beats)} }}
"""
    read = midi_of(text)
    assert len({note.channel for note in read.notes()}) == len(read.notes()) == 15
    assert 10 not in {note.channel for note in read.notes()}
    assert (
        "notes that sound on more strings at once than MIDI has channels, in bar 1 (verse)"
        in left_out(text)
    )


@pytest.mark.parametrize(("fret", "there"), [(4, True), (5, False)])
def test_notes_beyond_the_keys_of_midi(fret: int, there: bool) -> None:
    """Key 127 is the highest; a note above it is left out, and it is said."""
    text = f"""\
lesson "High"
  tuning E4 G4 Eb9
voicings
  A  000
section verse
  A {{ p1@{fret} , - , p3 , - }}
"""
    assert (127 in [key for _, key in keys(midi_of(text))]) == there
    said = "notes beyond the 128 keys that MIDI has, in bar 1 (verse)"
    assert (said in left_out(text)) != there
