"""Tempo: positions to seconds, with everything that changes it."""

from __future__ import annotations

from fractions import Fraction

from played_back import heard, one_bar, starts

from fretloom.performance.playback.clock import Clock

F = Fraction


def test_a_quarter_note_lasts_a_minute_by_the_tempo():
    assert starts(one_bar("p, m, p, m", "tempo 90")) == [0, F(2, 3), F(4, 3), 2]


def test_a_tempo_in_another_note():
    """60 dotted quarters a minute: a beat of 6/8 takes a second."""
    assert starts(one_bar("p, m", "meter 6/8", "tempo 60 to 3/8")) == [0, 1]


def test_speed_makes_everything_faster():
    body = "section verse using plain\n  E | E\n"
    assert heard(body, speed=2).seconds == heard(body).seconds / 2 == 4


def test_a_tempo_changes_where_the_lesson_says_so():
    played = heard("section verse using bassline\n  E\n  tempo 120\n  E\n")
    assert starts(played) == [0, 1, 2, 3, 4, F(9, 2), 5, F(11, 2)]


def test_a_ritardando_takes_each_sixteenth_at_the_tempo_of_its_middle():
    """From 60 to 30 over a bar of 16 sixteenths: 60 - 30 (k + 1/2) / 16 at the k-th."""
    played = heard("section verse using bassline\n  ritardando to 30 over 1 bar\n  E\n")
    tempos = [60 - F(30) * (2 * k + 1) / 32 for k in range(16)]
    assert played.seconds == sum(15 / tempo for tempo in tempos)
    assert [span.quarters for span in played.clock.spans] == tempos
    # The exact integral of 60/(60 - 7.5 x) over a bar is 8 ln 2; steps come within a thousandth of it.
    assert abs(float(played.seconds) - 5.5452) < 0.004


def test_an_accelerando_over_two_bars_ends_at_its_tempo_and_stays_there():
    played = heard("section verse using bassline\n  accelerando to 120 over 2 bars\n  E | E | E\n")
    assert played.clock.spans[0].quarters == 60 + F(60, 64)
    assert played.clock.spans[-1].quarters == 120
    assert played.seconds - played.clock.seconds(F(8)) == 2


def test_free_time_is_played_at_its_tempo():
    assert heard("section verse using plain\n  free time\n  E\n").seconds == 4


def test_a_fermata_makes_its_beat_twice_as_long():
    played = one_bar("p, m, p, m", after=" fermata on 4")
    assert starts(played) == [0, 1, 2, 3] and played.seconds == 5


def test_a_fermata_waits_up_to_the_next_note_only():
    played = one_bar("p, p m, p, p", after=" fermata on 2")
    assert starts(played) == [0, 1, 2, F(5, 2), F(7, 2)]


def test_a_fermata_in_a_swung_beat_waits_where_its_note_is_played():
    played = one_bar("p, p m, p, p", "swing 2:1", after=" fermata on 2&")
    assert starts(played) == [0, 1, F(5, 3), F(7, 3), F(10, 3)]


def test_before_the_first_and_behind_the_last_tempo_change_the_nearest_holds():
    clock = Clock([(F(0), F(60)), (F(4), F(120))])
    assert [clock.seconds(F(at)) for at in (-1, 0, 3, 4, 6)] == [-1, 0, 3, 4, 5]
    assert clock.lasting(F(5), F(1, 2)) == 1


def test_a_tempo_that_stays_has_one_span():
    assert len(heard("section verse using plain\n  E | E | E\n").clock.spans) == 1
