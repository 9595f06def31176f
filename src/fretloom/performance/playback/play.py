"""Plays bars of a performance: what is heard when, how loud, and until when."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from fretloom.performance.events import PlayedBar, Settings
from fretloom.performance.playback.counting import counts_of
from fretloom.performance.playback.ending import BegunSound, ended
from fretloom.performance.playback.laying import lay
from fretloom.performance.playback.loudness import BarLoudness, loudness_of, struck
from fretloom.performance.playback.moving import moves_of
from fretloom.performance.playback.planning import BarPlan, NotePlan, damped_at, plan_of
from fretloom.performance.playback.sounds import BarTime, Playback, SlapSound
from fretloom.performance.playback.spreading import COURSE, mate_first
from fretloom.trade.music.tempo import Tempo
from fretloom.values import evolve


def play(bars: Sequence[PlayedBar], settings: Settings, speed: Fraction = Fraction(1)) -> Playback:
    """Play bars one after another, `speed` times as fast as they are written (more than 0).

    Strings ring into the bars after their own. Where `bars` are not all of a performance, or not in its order, a
    string rings as long as it does there, or until it is plucked again here.
    """
    return _Player(bars, settings, speed).play()


class _Player:
    def __init__(self, bars: Sequence[PlayedBar], settings: Settings, speed: Fraction) -> None:
        self._bars, self._laid = bars, lay(bars, settings, speed)
        self._clock = self._laid.clock
        self._doubles = _doubles(settings)
        self._plans: dict[tuple[int, Tempo, Tempo | None], BarPlan] = {}
        self._loudness: dict[tuple[int, BarLoudness], tuple[int, ...]] = {}
        self._counts: dict[int, tuple[tuple[Fraction, int], ...]] = {}

    def play(self) -> Playback:
        """Return all that is heard."""
        plucks: list[BegunSound] = []
        slaps: list[SlapSound] = []
        loud = loudness_of(self._bars)
        for place, degree in enumerate(loud):
            plucks += self._strings(place, degree)
            slaps += self._slaps(place, degree)
        return Playback(
            clock=self._clock,
            bars=tuple(self._times()),
            sounds=ended(plucks, self._laid.end),
            slaps=tuple(slaps),
            end=self._laid.end,
        )

    def _times(self) -> Iterator[BarTime]:
        for played, start in zip(self._bars, self._laid.starts, strict=True):
            bar = played.bar
            counts = self._counts.get(bar.serial)
            if counts is None:
                counts = self._counts[bar.serial] = counts_of(bar, Fraction(0))
            here = tuple((start + at, strength) for at, strength in counts)
            yield BarTime(start=start, end=start + bar.length, counts=here, played=played)

    def _plan(self, place: int) -> BarPlan:
        """Return what is played in a bar, worked out once for each tempo at which the bar is played."""
        played, start = self._bars[place], self._laid.starts[place]
        key = (played.bar.serial, played.tempo, played.manner.tempo_to)
        plan = self._plans.get(key)
        if plan is None:
            plan = self._plans[key] = plan_of(place, played.bar, self._laid)
        if plan.earliest < 0 and start + plan.earliest < 0:
            return plan_of(place, played.bar, self._laid, least=-start)
        return plan

    def _strings(self, place: int, loud: BarLoudness) -> Iterator[BegunSound]:
        key = (self._bars[place].bar.serial, loud)
        if key not in self._loudness:
            self._loudness[key] = _loudness(self._bars[place], loud)
        for plan, loudness in zip(self._plan(place).notes, self._loudness[key], strict=True):
            pluck = self._pluck(place, plan, loudness)
            double = self._doubles.get(plan.note.string)
            if double is None:
                yield pluck
                continue
            lag = self._clock.lasting(pluck.at, COURSE)
            mate = _mate(pluck, double)
            thumb = mate_first(plan.note)
            yield _later(pluck, lag) if thumb else pluck
            yield mate if thumb else _later(mate, lag)

    def _pluck(self, place: int, plan: NotePlan, loudness: int) -> BegunSound:
        start, note = self._laid.starts[place], plan.note
        at = start + plan.at
        straight = start + plan.straight
        damped = plan.damped
        if plan.until is None:
            until, there = self._in_a_later_bar(place, straight)
            until, damped = max(at, until), damped or there
        else:
            until = straight if plan.until is plan.straight else start + plan.until
        slurs = tuple(start + slur for slur in plan.slurs)
        return BegunSound(
            bar=place,
            at=at,
            until=until,
            midi=plan.midi,
            mate=False,
            loudness=loudness,
            moves=moves_of(note, at, slurs, until, plan.quarter),
            note=note,
            written=at if note.onset is plan.at else start + note.onset,
            straight=straight,
            damped=damped,
        )

    def _in_a_later_bar(self, place: int, straight: Fraction) -> tuple[Fraction, bool]:
        """Return where something is played that is written at a position after a bar's end.

        Besides, whether the strings are damped there.
        """
        laid, later = self._laid, place + 1
        # Most notes that ring on end in the very next bar.
        if later >= len(laid.starts):
            later = place
        elif later + 1 < len(laid.starts) and straight >= laid.starts[later + 1]:
            later = laid.bar_at(straight)
        bar, swing = self._bars[later].bar, laid.swings[later]
        stops = bar.stop is not None or bar.rest or bar.slaps
        if swing.straight and not stops:
            return straight, False
        onset = straight - laid.starts[later]
        return laid.starts[later] + swing.at(onset), damped_at(bar, onset)

    def _slaps(self, place: int, loud: BarLoudness) -> Iterator[SlapSound]:
        bar, start = self._bars[place].bar, self._laid.starts[place]
        for slap in bar.slaps:
            velocity = loud.at(slap.onset / bar.length)
            at = self._laid.played(start + slap.onset, place)
            yield SlapSound(
                bar=place, at=at, loudness=struck(velocity, slap.accent, False, False), slap=slap
            )


def _loudness(played: PlayedBar, loud: BarLoudness) -> tuple[int, ...]:
    """Return how loud each note of a bar is."""
    bar = played.bar
    return tuple(
        struck(
            loud.at(note.onset / bar.length),
            note.accent,
            note.onset == 0 and not bar.start,
            note.technique.ghost,
        )
        for note in bar.notes
    )


def _mate(pluck: BegunSound, above: int) -> BegunSound:
    """Return the second string of a course, which sounds `above` semitones higher."""
    moves = tuple(evolve(move, midi=move.midi + above) for move in pluck.moves)
    return evolve(pluck, midi=pluck.midi + above, mate=True, moves=moves)


def _later(pluck: BegunSound, lag: Fraction) -> BegunSound:
    """Return a string that is struck a little later; what the fretting hand does stays where it is."""
    at = pluck.at + lag
    moves = tuple(
        evolve(move, at=max(at, move.at), until=max(at, move.until)) for move in pluck.moves
    )
    return evolve(pluck, at=at, until=max(at, pluck.until), moves=moves)


def _doubles(settings: Settings) -> dict[int, int]:
    """Return for each course with two strings how far the second sounds above the first, in semitones."""
    tuning = settings.tuning
    return {
        tuning.strings - index: double.midi - tuning.pitches[index].midi
        for index, double in enumerate(tuning.doubles)
        if double is not None
    }
