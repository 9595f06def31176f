"""Playbacks put together for practice."""

from __future__ import annotations

from fractions import Fraction

from attrs import evolve
from lesson_pool import LESSONS, Made
from played_back import heard, one_bar, starts

from fretloom.performance.playback.joining import counted_in, joined, only, silenced
from fretloom.performance.playback.play import play
from fretloom.performance.playback.sounds import Playback

F = Fraction


def clicks(playback: Playback) -> list[Fraction]:
    """Return the counts of bars that are only counted, in seconds."""
    return [
        playback.clock.seconds(at)
        for bar in playback.bars
        if bar.played is None
        for at, _ in bar.counts
    ]


def test_a_bar_is_counted_in_at_the_tempo_that_follows():
    played = counted_in(one_bar("p, m, p, m", "tempo 90"))
    assert clicks(played) == [0, F(2, 3), F(4, 3), 2]
    assert starts(played) == [F(8, 3) + F(2 * beat, 3) for beat in range(4)]


def test_two_bars_are_counted_in_where_one_is_short():
    """At 130 a bar of 3/4 lasts 1.4 s."""
    played = counted_in(one_bar("p, m, m", "meter 3/4", "tempo 130"))
    assert len(clicks(played)) == 6 and starts(played)[0] == F(6 * 60, 130)


def test_before_a_pickup_the_bar_is_counted_up_to_it():
    body = "section verse using plain\n  pickup from 4: E {{ m }}\n  E\n".replace(
        "{{", "{"
    ).replace("}}", "}")
    played = counted_in(heard(body))
    assert clicks(played) == [0, 1, 2] and starts(played)[:2] == [3, 4]


def test_a_long_pickup_gets_a_whole_bar_before():
    body = "section verse using plain\n  pickup from 2: E { m, p, m }\n  E\n"
    played = counted_in(heard(body))
    assert clicks(played) == [0, 1, 2, 3, 4] and starts(played)[0] == 5


def test_the_thumb_alone_and_the_fingers_alone():
    played = one_bar("p+a, m, slap, p")
    thumb, fingers = only(played, "thumb"), only(played, "fingers")
    assert [one.note.finger for one in thumb.sounds] == ["p", "p"] and not thumb.slaps
    assert [one.note.finger for one in fingers.sounds] == ["a", "m"] and len(fingers.slaps) == 1
    assert only(played, "both") is played


def test_alone_a_string_stops_where_it_does_in_the_whole():
    """The thumb's string 3 is plucked again by the index."""
    played = only(one_bar("p3, -, i3, -"), "thumb")
    assert [(one.until, one.ends) for one in played.sounds] == [(2, "again")]


def test_a_silence_keeps_bars_and_length():
    played = one_bar("p, m, slap, p")
    silent = silenced(played)
    assert (silent.sounds, silent.slaps) == ((), ())
    assert [evolve(bar, answer=False) for bar in silent.bars] == list(played.bars)
    assert all(bar.answer and bar.silent for bar in silent.bars)
    assert (silent.end, silent.seconds) == (played.end, played.seconds)


def test_one_after_another_each_at_its_tempo():
    body = "section verse using bassline\n  E\n"
    slow, quick = heard(body), heard(body, speed=2)
    both = joined([slow, quick])
    assert starts(both) == [0, 1, 2, 3, 4, F(9, 2), 5, F(11, 2)]
    assert both.seconds == slow.seconds + quick.seconds
    assert [one.bar for one in both.sounds] == [0] * 4 + [1] * 4
    assert [bar.start for bar in both.bars] == [0, 4]
    assert both.bars[1].counts == ((4, 0), (5, 2), (6, 2), (7, 2))


def test_slaps_stay_in_their_bars():
    played = one_bar("p, slap, p, slap")
    both = joined([played, played])
    assert [(slap.bar, slap.at) for slap in both.slaps] == [(0, 1), (0, 3), (1, 5), (1, 7)]


def test_over_the_seam_a_string_ends_where_it_is_plucked_again():
    played = one_bar("p6, -, m2@3.trill-5, -")
    both = joined([played, played])
    first = both.sounds[0]
    assert (first.until, first.ends) == (4, "again")
    assert all(move.at >= 6 for move in both.sounds[3].moves)


@LESSONS.law(most=40)
def test_two_times_in_a_row_are_the_same_twice(made: Made) -> None:
    timeline = made.timeline
    once = play(timeline.bars, timeline.settings)
    twice = joined([once, once])
    assert twice.seconds == 2 * once.seconds
    assert len(twice.sounds) == 2 * len(once.sounds)
    ahead = [one.at for one in twice.sounds[len(once.sounds) :]]
    assert ahead == [one.at + once.end for one in once.sounds]


@LESSONS.law(most=40)
def test_thumb_and_fingers_are_the_whole(made: Made) -> None:
    timeline = made.timeline
    whole = play(timeline.bars, timeline.settings)
    parts = [*only(whole, "thumb").sounds, *only(whole, "fingers").sounds]
    assert sorted(map(id, parts)) == sorted(map(id, whole.sounds))
