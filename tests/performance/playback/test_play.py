"""What is heard: when strings start and stop, and what happens to them meanwhile."""

from __future__ import annotations

from fractions import Fraction

from lesson_pool import LESSONS, Made
from played_back import found, heard, one_bar, starts
from timeline_lessons import expanded

from fretloom.performance.playback.play import play

F = Fraction


def test_the_strings_of_a_roll_follow_one_another_by_25_thousandths():
    assert starts(one_bar("(p i m a), -, -, -")) == [F(25 * place, 1000) for place in range(4)]


def test_the_strings_of_a_brush_follow_by_15_thousandths_in_its_direction():
    played = one_bar("p6-4, -, i1-3, -")
    assert [sound.string for sound in played.sounds] == [6, 5, 4, 1, 2, 3]
    assert starts(played)[:3] == [0, F(15, 1000), F(30, 1000)]


def test_a_roll_ends_within_a_third_of_its_place():
    """At 240 a sixteenth lasts 1/16 s."""
    played = one_bar("(p i m a) p i m, -, -, -", "tempo 240")
    assert starts(played)[:4] == [0, F(1, 144), F(2, 144), F(3, 144)]


def test_a_slow_roll_takes_its_whole_place():
    assert starts(one_bar("(slow p i m a), p, -, -"))[:4] == [0, F(1, 4), F(1, 2), F(3, 4)]


def test_a_pinch_is_at_one_instant():
    assert starts(one_bar("p+a, -, -, -")) == [0, 0]


def test_a_string_sounds_until_it_is_plucked_again():
    played = one_bar("p6, -, p6, -")
    first, second = played.sounds
    assert (first.until, first.ends) == (2, "again")
    assert (second.until, second.ends) == (4, "out")


def test_a_string_sounds_until_it_is_plucked_again_in_a_roll():
    """Without a gap between the end on paper and the moment in which the roll comes to it."""
    played = one_bar("m2, -, (p6 i3 m2), -")
    first = next(sound for sound in played.sounds if sound.string == 2)
    assert (first.until, first.ends) == (2 + F(50, 1000), "again")


def test_a_string_sounds_until_its_next_pluck_where_that_swings():
    played = one_bar("p m, p m, -, -", "swing 2:1")
    first = next(sound for sound in played.sounds if sound.string == 2)
    assert (first.at, first.until) == (F(2, 3), F(5, 3))


def test_stop_damps_all_strings():
    played = one_bar("p, m, -, -", after=" stop on 4")
    assert [(sound.until, sound.ends) for sound in played.sounds] == [(3, "damped")] * 2


def test_a_slap_on_the_strings_damps_them_and_is_heard():
    played = one_bar("p, m, slap, -")
    assert [(sound.until, sound.ends) for sound in played.sounds] == [(2, "damped")] * 2
    assert [slap.at for slap in played.slaps] == [2]


def test_a_change_lifts_the_fingers():
    played = heard("section verse\n  E { p5, -, -, - } | D { p4, -, -, - }\n")
    assert (found(played, 5).until, found(played, 5).ends) == (4, "lifted")


def test_a_damped_note_ends_with_its_place():
    played = one_bar("p.damped, -, -, -")
    assert (played.sounds[0].until, played.sounds[0].ends) == (1, "damped")


def test_a_string_rings_over_the_bar_line_into_another_tempo():
    played = heard("section verse\n  E { p6, -, -, - }\n  tempo 120\n  E { -, -, p6, - }\n")
    assert played.clock.seconds(played.sounds[0].until) == 5


def test_bars_alone_ring_as_in_the_song():
    """A bar taken out of a lesson: the string that the next bar plucks again rings on to that place."""
    whole = heard("section verse\n  E { p6, -, -, m } | E { p6, -, -, - }\n")
    alone = play([whole.bars[0].played], expanded("").timeline.settings)
    assert alone.end == 4 and [one.until for one in alone.sounds] == [4, 8]


def test_hammer_ons_and_pull_offs_come_at_once_where_they_are_written():
    (sound,) = one_bar("i3@0h2p0, -, -, -").sounds
    assert [(move.kind, move.at, move.until, move.fret, move.midi) for move in sound.moves] == [
        ("hammer-on", F(1, 3), F(1, 3), 2, 57),
        ("pull-off", F(2, 3), F(2, 3), 0, 55),
    ]


def test_a_slide_arrives_where_it_is_written():
    (sound,) = one_bar("i3@2s4, -, -, -").sounds
    (move,) = sound.moves
    assert (move.kind, move.at, move.until, move.midi) == (
        "slide", F(1, 2) - F(12, 100), F(1, 2), 59,
    )  # fmt: skip


def test_a_quick_slide_takes_half_the_time_there_is():
    (sound,) = one_bar("i3@2s4, -, -, -", "tempo 300").sounds
    assert (sound.moves[0].at, sound.moves[0].until) == (F(1, 4), F(1, 2))


def test_a_slide_behind_a_slur_takes_half_of_its_own_time():
    """Three notes share a beat of a fifth of a second."""
    (sound,) = one_bar("i3@0h2s4, -, -, -", "tempo 300").sounds
    assert [(move.at, move.until) for move in sound.moves] == [
        (F(1, 3), F(1, 3)), (F(1, 2), F(2, 3)),
    ]  # fmt: skip


def test_the_last_note_of_slurs_is_bent_and_not_the_pluck():
    (sound,) = one_bar("m2@3h5.prebend-full, -, -, -").sounds
    assert sound.midi == 62
    assert [(move.kind, move.midi) for move in sound.moves] == [("hammer-on", 64), ("bend", 66)]


def test_a_bend_goes_up_and_its_release_comes_back():
    (sound,) = one_bar("m2@3.bend-full-release, -, -, -").sounds
    assert [(move.kind, move.midi) for move in sound.moves] == [("bend", 64), ("release", 62)]
    assert sound.midi == 62
    assert sound.moves[0].until <= sound.moves[1].at < sound.moves[1].until


def test_a_string_bent_before_its_pluck_begins_high():
    (sound,) = one_bar("m2@3.prebend-full-release, -, -, -").sounds
    assert sound.midi == 64 and [move.kind for move in sound.moves] == ["release"]
    assert sound.moves[0].midi == 62


def test_a_trill_goes_to_and_fro_and_ends_on_its_note():
    (sound,) = one_bar("m2@3.trill-5, -, -, -").sounds
    kinds = [move.kind for move in sound.moves]
    assert kinds[:2] == ["hammer-on", "pull-off"] and len(kinds) % 2 == 0 and len(kinds) >= 8
    assert {move.midi for move in sound.moves} == {62, 64} and sound.moves[-1].midi == 62
    times = [move.at for move in sound.moves]
    assert times == sorted(set(times)) and times[-1] < sound.until


def test_grace_notes_are_played_on_the_beat_or_before_it():
    (on,) = one_bar("-, m2@1h3.grace, -, -").sounds
    assert on.at == 1 and on.moves[0].at > 1
    (before,) = one_bar("-, m2@1h3.grace-before, -, -").sounds
    assert before.at < 1 and before.moves[0].at == 1
    assert on.moves[0].at - 1 == 1 - before.at


def test_nothing_begins_before_the_beginning():
    (sound,) = one_bar("m2@1h3.grace-before, -, -, -").sounds
    assert sound.at == 0 and sound.moves[0].at == 0


def test_both_strings_of_a_course_sound():
    """Of twelve strings the lower four courses have an octave (common practice)."""
    played = one_bar("p6, -, m1, -", "tuning 12-string")
    assert [(one.string, one.mate, one.midi) for one in played.sounds] == [
        (6, True, 52), (6, False, 40), (1, False, 64), (1, True, 64),
    ]  # fmt: skip
    assert starts(played) == [0, F(1, 100), 2, 2 + F(1, 100)]


def test_the_counts_of_a_bar():
    played = one_bar("p, -, -, -")
    assert played.bars[0].counts == ((0, 0), (1, 2), (2, 2), (3, 2))


def test_in_six_eight_six_are_counted_and_two_of_them_are_beats():
    """As in what players say aloud (common practice, no source)."""
    played = one_bar("p, -", "meter 6/8")
    assert played.bars[0].counts == (
        (0, 0), (F(1, 2), 2), (1, 2), (F(3, 2), 1), (2, 2), (F(5, 2), 2),
    )  # fmt: skip


def test_of_many_counts_only_the_beats_are_counted():
    played = one_bar("p, -, -, -, -", "meter 15/8")
    assert [at for at, _ in played.bars[0].counts] == [0, F(3, 2), 3, F(9, 2), 6]


def test_the_counts_of_unequal_beats_are_all_counted():
    played = one_bar("p, -, -", "meter 2+2+3/8")
    assert [strength for _, strength in played.bars[0].counts] == [0, 2, 1, 2, 1, 2, 2]
    assert played.bars[0].counts[2][0] == 1


@LESSONS.law()
def test_whatever_is_played_is_in_order_and_one_string_sounds_once_at_a_time(made: Made) -> None:
    timeline = made.timeline
    played = play(timeline.bars, timeline.settings)
    assert [sound.at for sound in played.sounds] == sorted(sound.at for sound in played.sounds)
    last: dict[tuple[int, bool], Fraction] = {}
    for sound in played.sounds:
        key = (sound.string, sound.mate)
        assert last.get(key, F(0)) <= sound.at <= sound.until
        assert all(sound.at <= move.at <= move.until for move in sound.moves)
        assert 1 <= sound.loudness <= 127
        last[key] = sound.until


@LESSONS.law()
def test_every_pluck_is_heard_once(made: Made) -> None:
    timeline = made.timeline
    played = play(timeline.bars, timeline.settings)
    plucks = sum(len(one.bar.notes) for one in timeline.bars)
    assert sum(not sound.mate for sound in played.sounds) == plucks
    assert played.end == timeline.length


@LESSONS.law()
def test_a_lesson_at_half_the_speed_lasts_twice_as_long(made: Made) -> None:
    timeline = made.timeline
    whole = play(timeline.bars, timeline.settings)
    half = play(timeline.bars, timeline.settings, F(1, 2))
    assert half.seconds == whole.seconds * 2
