"""The performance as the fretting hand sees it: which voicing it holds when, and what it stops.

Everything is worked out once for each distinct bar; times stay relative to the bar, so that a bar
played often costs little more than one played once.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator
from fractions import Fraction
from functools import partial

from fretloom.performance.events import PlayedBar, TimedBar, TimedNote, Timeline
from fretloom.performance.hands.extra_fingers import ExtraFingers
from fretloom.performance.playback.clock import beats_of
from fretloom.performance.playback.swinging import SwungBar
from fretloom.trade.guitar.fretboard import Neck
from fretloom.trade.guitar.voicing import Voicing
from fretloom.trade.playability.reach import Hand
from fretloom.trade.playability.shape import Fretted, held_places
from fretloom.values import frozen


@frozen
class Stop:
    """A note that the fretting hand stops: beats from the bar's start, finger, string, fret.

    The fret counts from the nut; `finger` is "" where no finger can take it. `slid` says that the
    finger slides there on the string, `home` that the voicing has it there anyway; `slur` is which
    of the note's slurred notes it is, from 0, and None for the plucked one.
    """

    beat: float
    finger: str
    string: int
    fret: int
    note: TimedNote
    slid: bool = False
    home: bool = False
    slur: int | None = None


@frozen(eq=False)
class BarHold:
    """What happens in one bar while one voicing is held.

    Args:
        voicing: what is held, with its fingers. onset: where it is taken, as written, in quarter notes
            from the bar's start. start, end: the same and where the next one is, as played.
        stops: the notes stopped meanwhile, in order of time.
        notes: all that is plucked meanwhile.
        release: when the hand lets go, if it does meanwhile.
    """

    voicing: Voicing
    onset: Fraction
    start: float
    end: float
    stops: tuple[Stop, ...]
    notes: tuple[TimedNote, ...]
    release: float | None = None


def as_float(time: Fraction) -> float:
    """Return an exact time as a float, without the detour by which `float` does it."""
    return time.numerator / time.denominator


@frozen(eq=False)
class Moment:
    """A hold in the performance: `beat` is the length of a beat (a quarter) in seconds."""

    hold: BarHold
    played: PlayedBar
    beat: float


class HandWalk:
    """Follows the fretting hand through a timeline."""

    def __init__(self, timeline: Timeline, neck: Neck, hand: Hand) -> None:
        self.timeline, self.neck, self.hand = timeline, neck, hand
        self._holds: dict[int, tuple[BarHold, ...]] = {}  # By the bar's serial.

    def moments(self) -> Iterator[Moment]:
        """Yield the holds of the whole performance in order."""
        for played, beat in zip(self.timeline.bars, beats_of(self.timeline.bars), strict=True):
            for hold in self.holds(played.bar):
                yield Moment(hold, played, beat)

    def holds(self, bar: TimedBar) -> tuple[BarHold, ...]:
        """Return the holds of a bar; an equal result is one object."""
        known = self._holds.get(bar.serial)
        if known is None:
            known = self._holds[bar.serial] = tuple(self._of_bar(bar))
        return known

    def _of_bar(self, bar: TimedBar) -> Iterator[BarHold]:
        if not bar.voicings:
            return
        ends = [*(timed.onset for timed in bar.voicings[1:]), bar.length]
        place_of = partial(bisect_left, bar.notes, key=_onset)
        swing = SwungBar(bar, self.timeline.settings.swing)
        for timed, end in zip(bar.voicings, ends, strict=True):
            notes = list(bar.notes)
            if len(bar.voicings) > 1:
                notes = notes[place_of(timed.onset) : place_of(end)]
            release = None
            if bar.release is not None and timed.onset <= bar.release < end:
                release = swing.beat(bar.release)
            stops = sorted(self._stops(timed.voicing, notes, release, swing), key=_beat)
            start, stop = swing.beat(timed.onset), swing.beat(end)
            yield BarHold(
                timed.voicing, timed.onset, start, stop, tuple(stops), tuple(notes), release
            )

    def _stops(
        self, voicing: Voicing, notes: list[TimedNote], release: float | None, swing: SwungBar
    ) -> Iterator[Stop]:
        """Yield what is stopped, with fingers for the frets that plucks name."""
        bare = (None,) * len(voicing.frets)
        held = Fretted(voicing.frets, voicing.fingers or bare)
        extra = ExtraFingers(self.neck, self.hand, notes)
        for note in notes:
            if note.harmonic:
                continue
            beat = swing.beat(note.onset)
            free = Fretted(bare, bare) if release is not None and beat >= release else held
            finger = note.fretting or ""
            if note.fret and not finger and (note.literal or voicing.fingers):
                finger = extra.take(free, note, note.fret, beat, "", "")
            if note.fret:
                fret = self._fret(note, note.fret)
                home = self._home(free, finger, note.string, fret)
                yield Stop(beat, finger, note.string, fret, note, False, home)
            yield from self._slurred(free, note, finger, extra, swing)
            yield from self._trilled(free, note, finger, extra, swing)

    def _slurred(
        self, held: Fretted, note: TimedNote, finger: str, extra: ExtraFingers, swing: SwungBar
    ) -> Iterator[Stop]:
        for at, slur in enumerate(note.slurs):
            slid = slur.kind == "slide" and bool(finger)
            if not slur.fret:
                finger = ""
                continue
            grace = (at + 1) * note.technique.grace_length
            beat = swing.beat(slur.onset) + as_float(grace)
            if not slid:
                finger = slur.fretting or extra.take(held, note, slur.fret, beat, finger, slur.kind)
            fret = self._fret(note, slur.fret)
            home = self._home(held, finger, note.string, fret)
            yield Stop(beat, finger, note.string, fret, note, slid, home, at)

    def _trilled(
        self, held: Fretted, note: TimedNote, finger: str, extra: ExtraFingers, swing: SwungBar
    ) -> Iterator[Stop]:
        """Yield the other note of a trill, counted as one more slur; its finger comes down like a hammer-on."""
        trill = note.technique.trill
        if trill is None or not trill.fret:
            return
        beat = swing.beat(note.onset)
        above = trill.fret > note.fret
        if not trill.fretting:
            kind = "hammer-on" if above else "pull-off"
            finger = extra.take(held, note, trill.fret, beat, finger, kind)
        finger = trill.fretting or finger
        fret = self._fret(note, trill.fret)
        home = self._home(held, finger, note.string, fret)
        yield Stop(beat, finger, note.string, fret, note, False, home, len(note.slurs))

    def _home(self, held: Fretted, finger: str, string: int, fret: int) -> bool:
        """Whether the voicing has the finger on that place."""
        at = len(held.frets) - string
        if held.fingers[at] == finger:
            stopped = held.frets[at]
            return bool(stopped) and self.neck.stopped(string, stopped or 0) == fret
        if held.fingers.count(finger) < 2:
            return False
        places = held_places(self.neck, held.frets, held.fingers)
        return any(
            place.finger == finger
            and place.fret == fret
            and place.strings[0] >= string >= place.strings[-1]
            for place in places
        )

    def _fret(self, note: TimedNote, fret: int) -> int:
        return self.neck.stopped(note.string, fret)


def _onset(note: TimedNote) -> Fraction:
    return note.onset


def _beat(stop: Stop) -> float:
    return stop.beat
