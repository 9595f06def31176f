"""A bar that is planned once sounds at each of its playings as one that is planned for it alone."""

from __future__ import annotations

from fractions import Fraction

from attrs import evolve
from lesson_pool import LESSONS, Made

from fretloom.performance.events import PlayedBar
from fretloom.performance.playback.play import play
from fretloom.performance.playback.sounds import Playback


def apart(played: PlayedBar) -> PlayedBar:
    """Return the same bar, sharing nothing with its other playings: a serial of its own."""
    return evolve(played, bar=evolve(played.bar))


def heard(playback: Playback) -> list[object]:
    return [
        playback.sounds,
        playback.slaps,
        [(time.start, time.end, time.counts) for time in playback.bars],
        [(span.start, span.seconds, span.quarters) for span in playback.clock.spans],
    ]


@LESSONS.law(most=24)
def test_bars_that_share_their_plan_sound_as_those_that_do_not(made: Made) -> None:
    """Also in another order, from the middle, and slower."""
    timeline = made.timeline
    for bars, speed in (
        (timeline.bars, Fraction(1)),
        (timeline.bars[::-1], Fraction(3, 5)),
        (timeline.bars[1:4] * 3, Fraction(1)),
    ):
        alone = [apart(played) for played in bars]
        one, other = play(bars, timeline.settings, speed), play(alone, timeline.settings, speed)
        assert heard(one) == heard(other)
