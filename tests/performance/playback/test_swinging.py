"""Where swung notes are played."""

from __future__ import annotations

from fractions import Fraction

from played_back import heard, one_bar, starts

F = Fraction


def test_the_second_half_of_a_beat_comes_later():
    assert starts(one_bar("p m, p m, -, -", "swing 2:1")) == [0, F(2, 3), 1, F(5, 3)]
    assert starts(one_bar("p m, p m, -, -", "swing 3:2")) == [0, F(3, 5), 1, F(8, 5)]


def test_quarters_of_a_beat_share_the_half_that_they_are_in():
    assert starts(one_bar("p i m i, p, -, -", "swing 2:1")) == [0, F(1, 3), F(2, 3), F(5, 6), 1]


def test_a_triplet_is_played_as_written():
    assert starts(one_bar("p i m, p m, -, -", "swing 2:1")) == [0, F(1, 3), F(2, 3), 1, F(5, 3)]


def test_a_triplet_of_slurs_or_of_slaps_is_played_as_written():
    played = one_bar("p+i3@0h2p0, p m, -, -", "swing 2:1")
    assert [move.at for sound in played.sounds for move in sound.moves] == [F(1, 3), F(2, 3)]
    played = one_bar("slap slap slap, p m, -, -", "swing 2:1")
    assert [slap.at for slap in played.slaps] == [0, F(1, 3), F(2, 3)]


def test_in_cut_time_quarter_notes_swing():
    """A beat of 2/2 is a half note."""
    assert starts(one_bar("p m, p m", "meter 2/2", "swing 2:1")) == [0, F(4, 3), 2, F(10, 3)]


def test_a_meter_of_threes_does_not_swing():
    played = one_bar("p i m, p i m", "meter 6/8", "swing 2:1")
    assert starts(played) == [0, F(1, 2), 1, F(3, 2), 2, F(5, 2)]
    played = one_bar("p m, p m", "meter 6/8", "swing 2:1")
    assert starts(played) == [0, F(3, 4), F(3, 2), F(9, 4)]


def test_a_pickup_swings_in_the_beat_that_it_stands_in():
    """It is the second half of beat 4, so a third of a second before the bar."""
    body = "section verse\n  pickup from 4&: E { m }\n  E { p, -, -, - }\n"
    assert starts(heard(body, "swing 2:1")) == [F(1, 6), F(1, 2)]
