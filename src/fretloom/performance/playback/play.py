"""Plays bars of a performance: what is heard when, how loud, and until when."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from attrs import evolve

from fretloom.performance.events import PlayedBar, Settings, TimedBar, TimedNote
from fretloom.performance.playback.counting import counts_of
from fretloom.performance.playback.ending import Ends, ended
from fretloom.performance.playback.laying import lay
from fretloom.performance.playback.loudness import BarLoudness, loudness_of, struck
from fretloom.performance.playback.moving import midi_at_pluck, moves_of
from fretloom.performance.playback.sounds import BarTime, Playback, SlapSound, StringSound
from fretloom.performance.playback.spreading import COURSE, after_the_first, grace_steps, mate_first


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

    def play(self) -> Playback:
        """Return all that is heard."""
        sounds: list[tuple[Ends, StringSound]] = []
        slaps: list[SlapSound] = []
        times: list[BarTime] = []
        loud = loudness_of(self._bars)
        for place, (played, start) in enumerate(zip(self._bars, self._laid.starts, strict=True)):
            end, counts = start + played.bar.length, counts_of(played.bar, start)
            times.append(BarTime(start=start, end=end, counts=counts, played=played))
            sounds += self._strings(place, loud[place])
            slaps += self._slaps(place, loud[place])
        return Playback(
            clock=self._clock,
            bars=tuple(times),
            sounds=ended(sounds, self._laid.end),
            slaps=tuple(slaps),
            end=self._laid.end,
        )

    def _strings(self, place: int, loud: BarLoudness) -> Iterator[tuple[Ends, StringSound]]:
        bar = self._bars[place].bar
        last = _last_places(bar)
        for note in bar.notes:
            sound, ends = self._string(place, note, loud, last.get(note.gesture, 0))
            double = self._doubles.get(note.string)
            if double is None:
                yield ends, sound
                continue
            lag = self._clock.lasting(sound.at, COURSE)
            mate = _mate(sound, double)
            thumb = mate_first(note)
            yield ends, _later(sound, lag) if thumb else sound
            yield ends, mate if thumb else _later(mate, lag)

    def _string(
        self, place: int, note: TimedNote, loud: BarLoudness, last: int
    ) -> tuple[StringSound, Ends]:
        played, start = self._bars[place], self._laid.starts[place]
        written = self._laid.played(start + note.onset, place)
        quarter = 60 / self._clock.span_at(written).quarters
        moved, _ = grace_steps(note)
        begin = written + moved + after_the_first(note, last, quarter)
        at = max(begin, Fraction(0))
        straight = start + note.onset + note.ring
        over = self._laid.bar_at(straight)
        until = self._laid.played(straight, over)
        slurs = self._slurs(place, note, written, at)
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
        return sound, Ends(start + note.onset, straight, self._damped(note, straight, over))

    def _slurs(
        self, place: int, note: TimedNote, written: Fraction, at: Fraction
    ) -> tuple[Fraction, ...]:
        """Return the positions of a pluck's slurred notes."""
        if not note.slurs:
            return ()
        if note.technique.grace:
            return tuple(max(at, written + later) for later in grace_steps(note)[1])
        start = self._laid.starts[place]
        return tuple(
            max(at, self._laid.played(start + slurred.onset, place)) for slurred in note.slurs
        )

    def _damped(self, note: TimedNote, straight: Fraction, place: int) -> bool:
        """Whether the strings are damped where a note ends, at a straight position in a bar."""
        bar, onset = self._bars[place].bar, straight - self._laid.starts[place]
        if note.dead or note.technique.lasting == "damped" or bar.stop == onset:
            return True
        slapped = any(slap.place == "strings" and slap.onset == onset for slap in bar.slaps)
        return slapped or (bar.rest and not onset)

    def _slaps(self, place: int, loud: BarLoudness) -> Iterator[SlapSound]:
        bar, start = self._bars[place].bar, self._laid.starts[place]
        for slap in bar.slaps:
            velocity = loud.at(slap.onset / bar.length)
            at = self._laid.played(start + slap.onset, place)
            yield SlapSound(
                bar=place, at=at, loudness=struck(velocity, slap.accent, False, False), slap=slap
            )


def _mate(sound: StringSound, above: int) -> StringSound:
    """Return the second string of a course, which sounds `above` semitones higher."""
    moves = tuple(evolve(move, midi=move.midi + above) for move in sound.moves)
    return evolve(sound, midi=sound.midi + above, mate=True, moves=moves)


def _later(sound: StringSound, lag: Fraction) -> StringSound:
    """Return a string that is struck a little later; what the fretting hand does stays where it is."""
    at = sound.at + lag
    moves = tuple(
        evolve(move, at=max(at, move.at), until=max(at, move.until)) for move in sound.moves
    )
    return evolve(sound, at=at, until=max(at, sound.until), moves=moves)


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
