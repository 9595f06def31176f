"""Tempos to practise at: where a piece is at ease, where it breaks, and the steps of a ladder between start and goal.

The time that a change takes is reckoned after Fitts (see `trade.playability.moving.skills`), the time that a finger
needs between two plucks comes from measured rates of tapping (see `trade.playability.picking`). To isolate what
goes wrong, slow it down until it is right, and raise the tempo by and by is what the best practisers do: Duke,
Simmons and Cash 2009, Journal of Research in Music Education 56(4) (from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from math import floor, inf

from fretloom.performance.events import PlayedBar, Settings, TimedBar, Timeline
from fretloom.performance.hands.fingering import hand_of_settings, neck_of_settings
from fretloom.performance.hands.holds import BarHold, HandWalk, Moment, Stop
from fretloom.performance.hands.picked import plucked
from fretloom.performance.hands.pressed import pressed, times_of_change
from fretloom.performance.playback.swinging import SwungBar
from fretloom.practising.elements import Hands, notes_of
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.music.tempo import Tempo
from fretloom.trade.playability.moving.changes import Change, change
from fretloom.trade.playability.moving.haste import TOO_FAST
from fretloom.trade.playability.moving.hops import StoppedNote, hops
from fretloom.trade.playability.moving.skills import SKILLS
from fretloom.trade.playability.picking import hurry
from fretloom.trade.playability.shape import Fretted
from fretloom.values import frozen

#: A change is at ease while it needs no more than this of the time there is; a hop the same. An assumption: with it
#: the starts come near those that teachers write, who begin at about seven tenths of the goal.
AT_EASE = 0.7
#: What is new begins at this part of its goal at the most (an assumption: the middle of what teachers write).
LEARNING = Fraction(7, 10)
#: Slower beats are hard to keep (a metronome's scale begins here: common practice, no source).
SLOWEST = 40
#: Steps of a ladder are at least so many beats a minute apart; less is hardly noticed (Drake and Botte 1993,
#: Perception & Psychophysics 54: some 2 to 6 % of the tempo; from memory).
LEAST_STEP = 3
#: At this tempo a quarter note lasts a second, and all figures are reckoned in it.
_UNIT = 60


@frozen(kw_only=True)
class PracticeTempos:
    """How fast a piece is practised, in beats a minute as the student counts them.

    Args:
        unit: the length of that beat in quarter notes: 1, or 3/2 in 6/8.
        start, goal: the first tempo and the last; `start` is never above `goal`.
        ladder: from start to goal in even steps; one alone where they are the same.
        ease: up to here every change and every pluck is comfortable; None where nothing is in a hurry.
        breaks: from here on the tightest of them cannot be done; None likewise.
    """

    unit: Fraction
    start: Fraction
    goal: Fraction
    ladder: tuple[Fraction, ...]
    ease: int | None = None
    breaks: int | None = None


@frozen
class Comfort:
    """Tempos in quarter notes a minute: up to `ease` all is comfortable, from `breaks` on it cannot be done."""

    ease: float = inf
    breaks: float = inf

    def slower(self, other: Comfort) -> Comfort:
        """Return the tighter of two at each end."""
        return Comfort(min(self.ease, other.ease), min(self.breaks, other.breaks))


def counted_unit(settings: Settings) -> Fraction:
    """Return the length of the beat a player counts, in quarter notes.

    It is the note that the lesson's tempo is given in, if that is not a quarter; else the meter's beat if all of
    a bar are alike (6/8: a dotted quarter), else a quarter.
    """
    beats = set(settings.meter.beats)
    if settings.tempo.unit != 1 or len(beats) > 1:
        return settings.tempo.unit
    return beats.pop()


def ladder(start: Fraction, goal: Fraction, steps: int) -> tuple[Fraction, ...]:
    """Return tempos from start to goal, at most `steps` of them, in even steps of whole beats a minute.

    Fewer where they would be closer than `LEAST_STEP`; both ends are always there.
    """
    way = goal - start
    count = min(steps - 1, max(1, floor(way / LEAST_STEP)))
    if way <= 0:
        return (goal,)
    between = (Fraction(round(start + way * at / count)) for at in range(1, count))
    return (start, *between, goal)


def _even(start: Fraction, goal: Fraction, steps: int) -> Fraction:
    """Return the start, lowered a little so that all steps of the ladder up to the goal are the same."""
    count = min(steps - 1, max(1, floor((goal - start) / LEAST_STEP)))
    if start >= goal or (goal - start).denominator != 1:
        return start
    lowered = goal + count * ((start - goal) // count)
    return lowered if lowered >= min(Fraction(SLOWEST), start) else start


class Tempi:
    """Finds the tempos of pieces of one lesson, for a player of a level; each bar is looked at once."""

    def __init__(self, timeline: Timeline, level: str, steps: int) -> None:
        settings = timeline.settings
        self._neck, hand = neck_of_settings(settings), hand_of_settings(settings)
        self._walk = HandWalk(timeline, self._neck, hand)
        self._swing = settings.swing
        self._level, self._skill, self._steps = level, SKILLS[level], steps
        self.unit = counted_unit(settings)
        #: How pressed each change is that has been met in bars, by the names of its voicings.
        self.made: dict[tuple[str, str], Comfort] = {}
        self._within: dict[tuple[int, int | None, Hands], Comfort] = {}

    def change(self, before: Voicing, after: Voicing) -> Change | None:
        """Return what the fingers do from one voicing to another; None where they are not known."""
        if before == after or not (before.fingers and after.fingers):
            return None
        one, other = Fretted(before.frets, before.fingers), Fretted(after.frets, after.fingers)
        return change(self._neck, one, other, self._skill)

    def of_change(self, before: Voicing, after: Voicing) -> Comfort:
        """Return the pace of a change: where bars have it, the tightest of them; else from one beat to the next."""
        known = self.made.get((before.name, after.name))
        if known is not None:
            return known
        made = self.change(before, after)
        if made is None or made.time <= 0:
            return Comfort()
        whole = _UNIT / made.time
        return Comfort(whole * AT_EASE, whole * TOO_FAST[self._level])

    def of_bars(self, bars: Sequence[TimedBar], hands: Hands = "both") -> Comfort:
        """Return the pace of bars that follow one another."""
        following = [*bars[1:], None]
        pace = Comfort()
        for bar, after in zip(bars, following, strict=False):
            key = (bar.serial, after.serial if after else None, hands)
            if key not in self._within:
                self._within[key] = self._pair(bar, after, hands)
            pace = pace.slower(self._within[key])
        return pace

    def _pair(self, bar: TimedBar, after: TimedBar | None, hands: Hands) -> Comfort:
        """Return the pace of a bar and of the way into the next one."""
        pace = self._picking(bar, after, hands)
        played = _played(bar)
        moments = [Moment(hold, played, 1.0) for hold in self._walk.holds(bar)]
        if hands == "both":
            for moment in moments:
                pace = pace.slower(self._hops(moment.hold))
        if after is not None:
            into = _played(after)
            moments += [Moment(hold, into, 1.0) for hold in self._walk.holds(after)[:1]]
        for before, later in pairwise(moments):
            pace = pace.slower(self._change(before, later))
        return pace

    def _change(self, before: Moment, after: Moment) -> Comfort:
        one, other = before.hold.voicing, after.hold.voicing
        if one == other or not (one.fingers and other.fingers):
            return Comfort()
        made = pressed(self._neck, self._skill, before, after, times_of_change(before, after))
        if made is None or not 0 < made.pressure < inf:
            return Comfort()
        at_once = _UNIT / made.pressure
        pace = Comfort(at_once * AT_EASE, at_once * TOO_FAST[self._level])
        names = (one.name, other.name)
        self.made[names] = self.made.get(names, Comfort()).slower(pace)
        return pace

    def _hops(self, hold: BarHold) -> Comfort:
        """Return the pace of fingers that go from string to string within a hold."""
        notes = [_stopped(stop) for stop in hold.stops if stop.finger]
        pace = Comfort()
        for hop in hops(self._neck, notes, self._skill):
            if hop.available > 0 and hop.needed > 0 and hop.rule != "hop-cuts-note":
                whole = _UNIT * hop.available / hop.needed
                pace = pace.slower(Comfort(whole * AT_EASE, whole * TOO_FAST[self._level]))
        return pace

    def _picking(self, bar: TimedBar, after: TimedBar | None, hands: Hands) -> Comfort:
        notes = plucked(notes_of(bar, hands), SwungBar(bar, self._swing), 1.0, 0.0)
        if after is not None:
            swing = SwungBar(after, self._swing)
            notes += plucked(notes_of(after, hands), swing, 1.0, float(bar.length))
        ease, able = hurry(notes, self._level)
        return Comfort(_UNIT / ease if ease else inf, _UNIT / able if able else inf)

    @staticmethod
    def whole(quarters: float, unit: Fraction) -> int | None:
        """Return quarter notes a minute in whole beats of a unit; None for what has no bound."""
        return None if quarters == inf else max(1, floor(quarters / unit))

    def tempos(
        self, pace: Comfort, goal: Fraction, start: Fraction | None = None
    ) -> PracticeTempos:
        """Return the tempos of a piece.

        Args:
            pace: where it is at ease, where it breaks.
            goal: where it is to arrive, in quarter notes a minute. start: where a teacher wants it to begin; by
                default where it is at ease, below the goal in any case.
        """
        top = goal / self.unit
        ease, breaks = (self.whole(one, self.unit) for one in (pace.ease, pace.breaks))
        if start is not None:
            begin = min(start / self.unit, top)
        else:
            begin = min(LEARNING * top, top if ease is None else Fraction(ease))
            begin = max(Fraction(floor(begin)), min(Fraction(SLOWEST), top))
            begin = _even(begin, top, self._steps)
        return PracticeTempos(
            unit=self.unit,
            start=begin,
            goal=top,
            ladder=ladder(begin, top, self._steps),
            ease=ease,
            breaks=breaks,
        )


def _played(bar: TimedBar) -> PlayedBar:
    tempo = Tempo(Fraction(_UNIT))
    return PlayedBar(
        index=1, number=1, section="", title="", entry=1, playing=1, written=None, first=False,
        tempo=tempo, bar=bar,
    )  # fmt: skip


def _stopped(stop: Stop) -> StoppedNote:
    return StoppedNote(
        stop.beat, stop.beat, stop.finger, stop.string, stop.fret, stop.slid, stop.home
    )
