"""Plays bars of a performance: what is heard when, how loud, and until when."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from fractions import Fraction

from attrs import evolve

from fretloom.performance.events import PlayedBar, Settings, TimedBar, TimedNote
from fretloom.performance.playback.clock import Clock, tempos_in
from fretloom.performance.playback.counting import counts_of
from fretloom.performance.playback.ending import Ends, ended
from fretloom.performance.playback.loudness import BarLoudness, loudness_of, struck
from fretloom.performance.playback.moving import midi_at_pluck, moves_of
from fretloom.performance.playback.sounds import BarTime, Playback, SlapSound, StringSound
from fretloom.performance.playback.spreading import COURSE, after_the_first, grace_steps, mate_first
from fretloom.performance.playback.swinging import Swung


def play(bars: Sequence[PlayedBar], settings: Settings, speed: Fraction = Fraction(1)) -> Playback:
    """Play bars one after another, `speed` times as fast as they are written (more than 0).

    Strings ring into the bars after their own. Where `bars` are not all of a performance, or not in its order, a
    string rings as long as it does there, or until it is plucked again here.
    """
    return _Player(bars, settings, speed).play()


class _Player:
    def __init__(self, bars: Sequence[PlayedBar], settings: Settings, speed: Fraction) -> None:
        self._bars, self._settings = bars, settings
        known: dict[int, Swung] = {}
        self._swings: list[Swung] = []
        self._starts: list[Fraction] = []
        self._end = Fraction(0)
        tempos: list[tuple[Fraction, Fraction]] = []
        for played in bars:
            swing = known.get(played.bar.serial)
            if swing is None:
                swing = known[played.bar.serial] = Swung(played.bar, settings.swing)
            self._swings.append(swing)
            self._starts.append(self._end)
            tempos += [
                (self._end + onset, quarters * speed)
                for onset, quarters in tempos_in(played, swing)
            ]
            self._end += played.bar.length
        self._clock = Clock(tempos or [(Fraction(0), settings.tempo.quarters_per_minute * speed)])
        self._doubles = _doubles(settings)

    def play(self) -> Playback:
        """Return all that is heard."""
        sounds: list[tuple[Ends, StringSound]] = []
        slaps: list[SlapSound] = []
        times: list[BarTime] = []
        loud = loudness_of(self._bars)
        for place, (played, start) in enumerate(zip(self._bars, self._starts, strict=True)):
            end = start + played.bar.length
            times.append(
                BarTime(start=start, end=end, counts=counts_of(played.bar, start), played=played)
            )
            sounds += self._strings(place, loud[place])
            slaps += self._slaps(place, loud[place])
        return Playback(
            clock=self._clock,
            bars=tuple(times),
            sounds=ended(sounds, self._end),
            slaps=tuple(slaps),
            end=self._end,
        )

    def _strings(self, place: int, loud: BarLoudness) -> Iterator[tuple[Ends, StringSound]]:
        bar = self._bars[place].bar
        last = _last_places(bar)
        for note in bar.notes:
            sound, ends = self._string(place, note, loud, last.get(note.gesture, 0))
            yield ends, sound
            double = self._doubles.get(note.string)
            if double is not None:
                yield ends, self._mate(sound, double)

    def _string(
        self, place: int, note: TimedNote, loud: BarLoudness, last: int
    ) -> tuple[StringSound, Ends]:
        played, swing, start = self._bars[place], self._swings[place], self._starts[place]
        written = start + swing.at(note.onset)
        quarter = 60 / self._clock.span_at(written).quarters
        moved, _ = grace_steps(note)
        begin = written + moved + after_the_first(note, last, quarter)
        at = max(begin, Fraction(0))
        until = self._position(place, note.onset + note.ring)
        slurs = self._slurs(note, start, swing, written, at)
        first = note.onset == 0 and not played.bar.start
        share = note.onset / played.bar.length
        sound = StringSound(
            bar=place,
            at=at,
            until=max(at, until),
            string=note.string,
            midi=midi_at_pluck(note),
            mate=False,
            loudness=struck(loud.at(share), note.accent, first, note.technique.ghost),
            ends="lifted",
            moves=moves_of(note, at, slurs, max(at, until), quarter),
            note=note,
        )
        return sound, self._ends(place, note)

    def _slurs(
        self, note: TimedNote, start: Fraction, swing: Swung, written: Fraction, at: Fraction
    ) -> tuple[Fraction, ...]:
        """Return the positions of a pluck's slurred notes."""
        if not note.slurs:
            return ()
        if note.technique.grace:
            return tuple(max(at, written + later) for later in grace_steps(note)[1])
        return tuple(max(at, start + swing.at(slurred.onset)) for slurred in note.slurs)

    def _mate(self, sound: StringSound, above: int) -> StringSound:
        """Return the second string of a course, which sounds `above` semitones higher, a little before or after."""
        later = self._clock.lasting(sound.at, COURSE)
        at = sound.at if mate_first(sound.note) else sound.at + later
        moves = tuple(evolve(move, midi=move.midi + above) for move in sound.moves)
        until = max(at, sound.until)
        return evolve(sound, at=at, until=until, midi=sound.midi + above, mate=True, moves=moves)

    def _position(self, place: int, onset: Fraction) -> Fraction:
        """Return where something is that is written at `onset` from the start of a bar, maybe in a later one."""
        straight = self._starts[place] + onset
        later = place
        if onset >= self._bars[place].bar.length:
            later = max(place, bisect_right(self._starts, straight) - 1)
        return self._starts[later] + self._swings[later].at(straight - self._starts[later])

    def _ends(self, place: int, note: TimedNote) -> Ends:
        """Return what is written where a note ends: the straight position, and whether the strings are damped there."""
        straight = self._starts[place] + note.onset + note.ring
        later = max(0, bisect_right(self._starts, straight) - 1)
        bar, onset = self._bars[later].bar, straight - self._starts[later]
        damped = note.dead or note.technique.lasting == "damped"
        damped |= bar.stop == onset or (bar.rest and not onset)
        damped |= any(slap.place == "strings" and slap.onset == onset for slap in bar.slaps)
        return Ends(self._starts[place] + note.onset, straight, damped)

    def _slaps(self, place: int, loud: BarLoudness) -> Iterator[SlapSound]:
        played, swing, start = self._bars[place], self._swings[place], self._starts[place]
        for slap in played.bar.slaps:
            velocity = loud.at(slap.onset / played.bar.length)
            at = start + swing.at(slap.onset)
            yield SlapSound(
                bar=place, at=at, loudness=struck(velocity, slap.accent, False, False), slap=slap
            )


def _last_places(bar: TimedBar) -> dict[int | None, int]:
    """Return for each roll or brush of a bar the place of its last note."""
    last: dict[int | None, int] = {}
    for note in bar.notes:
        if note.order is not None:
            last[note.gesture] = max(note.order, last.get(note.gesture, 0))
    return last


def _doubles(settings: Settings) -> dict[int, int]:
    """Return for each course with two strings how far the second sounds above the first, in semitones."""
    tuning = settings.tuning
    return {
        tuning.strings - index: double.midi - tuning.pitches[index].midi
        for index, double in enumerate(tuning.doubles)
        if double is not None
    }
