"""What of a lesson is heard, how fast and how often."""

from __future__ import annotations

from fractions import Fraction

import pytest
from reading_through import reading_of
from timeline_lessons import HEAD

from fretloom.errors import FretloomError
from fretloom.formats.sound.choice import SoundOptions, chosen_playback
from fretloom.performance.playback.sounds import Playback

BODY = """
section verse using bassline "Verse"
  pickup from 4: E { m }
  E | A | E | E

section coda using bassline
  A | E

form
  verse
  coda

step "The thumb"
  show pattern bassline over A from 60 to 90

step "All of it"
  Listen first.
  show bars 2-3 of verse at 60
  show form
"""


def played(**options: object) -> Playback:
    reading = reading_of(HEAD.format(fields="  tempo 120\n") + BODY)
    return chosen_playback(reading, SoundOptions(**options))  # type: ignore[arg-type]


def refusal(**options: object) -> str:
    with pytest.raises(FretloomError) as refused:
        played(**options)
    return str(refused.value)


def numbers(playback: Playback) -> list[int | None]:
    return [bar.played and bar.played.number for bar in playback.bars]


def tempos(playback: Playback) -> list[Fraction]:
    return [span.quarters for span in playback.clock.spans]


def test_the_whole_song_unless_something_is_chosen():
    assert numbers(played()) == [0, 1, 2, 3, 4, 5, 6] and tempos(played()) == [120]


def test_a_section_and_bars_of_it():
    assert numbers(played(section="coda")) == [5, 6]
    assert numbers(played(section="coda", bars="2")) == [6]
    assert numbers(played(section="verse", bars="2-3")) == [2, 3]


def test_bars_of_the_song():
    assert numbers(played(bars="4-5")) == [4, 5]


def test_a_part_of_the_tempo_or_tempos_one_after_the_other():
    assert tempos(played(percent=50)) == [60]
    ladder = played(bars="1", tempos=(60, 90, 120))
    assert tempos(ladder) == [60, 90, 120] and numbers(ladder) == [1, 1, 1]


def test_tempos_are_in_the_beat_that_is_counted():
    text = HEAD.format(fields="  meter 6/8\n  tempo 60 to 3/8\n")
    text += "section verse\n  E { p, m } | E { p, m }\n"
    found = chosen_playback(reading_of(text), SoundOptions(tempos=(40,)))
    assert found.seconds == 6


def test_several_times_in_a_row():
    assert numbers(played(bars="1-2", times=2)) == [1, 2, 1, 2]


def test_the_count_comes_before_each_tempo_once():
    assert numbers(played(bars="1", tempos=(60, 90), times=2, count_in=True)) == [
        None, 1, 1, None, 1, 1,
    ]  # fmt: skip


def test_after_each_time_a_silence_as_long():
    found = played(bars="1-2", times=2, answer=True)
    assert numbers(found) == [1, 2, 1, 2, 1, 2, 1, 2]
    assert {one.bar for one in found.sounds} == {0, 1, 4, 5}


def test_the_thumb_alone():
    assert {one.note.finger for one in played(heard="thumb").sounds} == {"p"}
    assert {one.note.finger for one in played(heard="fingers").sounds} == {"m"}


def test_a_step_is_what_it_shows_at_the_tempos_of_its_ladder():
    found = played(step="1")
    assert tempos(found) == [60, 70, 80, 90]
    assert {bar.played.bar.voicings[0].voicing.name for bar in found.bars if bar.played} == {"A"}
    assert tempos(played(step="1", tempos=(50,))) == [50]


def test_steps_have_the_numbers_of_the_practice_path():
    """Behind the first comes the verse, which no step of the teacher shows before the song."""
    assert numbers(played(step="1a", tempos=(60,)))[:5] == [0, 1, 2, 3, 4]


def test_a_step_that_shows_several_things_is_all_of_them():
    found = played(step="2", tempos=(60,))
    assert numbers(found) == [2, 3] * 4 + [0, 1, 2, 3, 4, 5, 6] * 2


def test_what_a_step_shows_is_played_again_up_to_eight_bars_or_as_often_as_asked():
    assert len(played(step="1").bars) == 8 * 4
    assert len(played(step="1", tempos=(60,), times=11).bars) == 11


def test_what_is_not_there_is_said_with_what_is():
    assert refusal(section="cods") == (
        "there is no section cods that is played: did you mean coda?"
    )
    assert refusal(section="x") == (
        "there is no section x that is played: the sections are verse and coda"
    )
    assert refusal(bars="7-9") == "bars 7-9 are not all there: the song has 6 bars"
    assert refusal(bars="5-9") == "bars 5-9 are not all there: the song has 6 bars"
    assert refusal(section="coda", bars="0-1").startswith("bars 0-1 are not all there")
    assert refusal(bars="5-3") == "bars 5-3: say the first bar first, 3-5"
    assert refusal(section="coda", bars="3") == (
        "bars 3 are not all there: the section coda has 2 bars"
    )
    assert refusal(step="9") == "there is no step 9: the steps of practice are 1, 1a and 2"
    assert refusal(step="1", bars="1") == "choose a step, or a section and bars, not both"


def test_what_is_too_long_is_refused_before_it_is_made():
    assert refusal(times=100, tempos=(60,) * 40) == (
        "that is 28,000 bars to be heard, and 20,000 is the limit: choose fewer bars, tempos or times"
    )


def test_many_notes_are_refused_as_well():
    """A bar with 60 notes, 100 times at each of 40 tempos."""
    beats = " , ".join(["[p p p] [p p p] [p p p] [p p p] [p p p]"] * 4)
    text = HEAD.format(fields="") + f"section verse\n  E {{ {beats} }}\n"
    with pytest.raises(FretloomError, match="240,000 notes to be heard, and 200,000 is the limit"):
        chosen_playback(reading_of(text), SoundOptions(tempos=(60,) * 40, times=100))


def test_tempos_and_a_percentage_are_not_chosen_together():
    assert refusal(tempos=(60,), percent=50) == (
        "choose tempos or a percentage of the written one, not both"
    )


def test_a_shape_is_heard_twice_as_slowly_as_its_step_begins():
    """Rolled, before the ladder of the pattern behind it."""
    text = HEAD.format(fields="  tempo 120\n") + BODY.split("\nstep", maxsplit=1)[0]
    text += '\nstep "A"\n  show voicing A\n  show pattern bassline over A from 60 to 90\n'
    found = chosen_playback(reading_of(text), SoundOptions(step="1"))
    assert [span.quarters for span in found.clock.spans] == [60, 70, 80, 90]
    assert [len({one.at for one in found.sounds if one.bar == bar}) for bar in (0, 1)] == [6, 6]


@pytest.mark.parametrize(
    ("option", "value"),
    [
        ("bars", "a"), ("bars", "1-"), ("bars", 3), ("tempos", (5,)), ("tempos", 60), ("times", 0),
        ("percent", 5), ("step", 3), ("step", ""), ("step", "a1"), ("heard", "feet"), ("tempos", ("60",)), ("section", 3),
    ],
)  # fmt: skip
def test_a_wrong_value_is_refused(option, value):
    with pytest.raises(FretloomError, match=f"^{option} is"):
        SoundOptions(**{option: value})


def test_a_lesson_without_bars_is_silent():
    """Whatever is chosen but bars, sections and steps, which it does not have."""
    reading = reading_of(HEAD.format(fields=""))
    for options in (SoundOptions(), SoundOptions(tempos=(60, 80), times=3, count_in=True)):
        found = chosen_playback(reading, options)
        assert (found.bars, found.sounds, found.seconds) == ((), (), 0)
