"""A cue for each bar: where it stands, its chords over the count, and the words that are sung.

The counts have timestamps, so that a player can show how far the bar has come.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import groupby, zip_longest

from fretloom.formats.sound.captions.vtt import Cue, milliseconds, timestamp, words
from fretloom.formats.sound.places import SoundPlaces
from fretloom.notation.model.details.sung import as_written
from fretloom.performance.events import PlayedBar, TimedBar, Timeline
from fretloom.performance.place_words import Whereabouts
from fretloom.performance.playback.sounds import BarTime, Playback
from fretloom.performance.showing.shape_names import signed_names
from fretloom.practising.tempos import counted_unit
from fretloom.trade.music.tempo import number_words
from fretloom.trade.phrases.table import say


class BarCaptions:
    """The captions of a playback, `offset` seconds later than it."""

    def __init__(self, playback: Playback, timeline: Timeline, offset: Fraction) -> None:
        self._playback, self._offset = playback, offset
        self._places = SoundPlaces(timeline.settings)
        self._unit = counted_unit(timeline.settings)
        self._where = Whereabouts(timeline.bars)
        self._names = signed_names(timeline)

    def cues(self) -> Iterator[Cue]:
        """Yield the captions in order of time; what comes before the recording begins is cut off."""
        times = self._playback.bars
        for time, after in zip_longest(times, times[1:]):
            start, end = self._shown(time.start), self._shown(time.end)
            if end > 0:
                begin = max(0, start)
                yield Cue(begin, end, tuple(filter(None, self._lines(time, after, begin, end))))

    def _shown(self, position: Fraction) -> int:
        return milliseconds(self._playback.clock.seconds(position) + self._offset)

    def _lines(self, time: BarTime, after: BarTime | None, start: int, end: int) -> Iterator[str]:
        played, following = time.played, self._following(time, after)
        if played is None:
            yield self._at_tempo(say("captions.count-in"), time)
            counted = [(at, str(number)) for number, (at, _) in enumerate(time.counts, start=1)]
            yield f"{self._timed(counted, start, end)} {following}"
            return
        place = self._place(played)
        yield say("captions.answer", place=place) if time.answer else place
        marks = [
            (at, f"<c.chord>{words(self._name(name))}</c>")
            for at, name in self._chords(time, played)
        ]
        if not marks:
            yield say("captions.rest")
        counts = [(at, str(_count(at, time.start, played.bar))) for at, _ in time.counts]
        # A chord stands before the count on which it is taken.
        timed = self._timed(sorted([*marks, *counts], key=_place), start, end)
        yield f"{timed} {following}".strip()
        yield _sung(played)
        yield words(played.bar.cue)

    def _name(self, voicing: str) -> str:
        return self._names.get(voicing, voicing)

    def _place(self, played: PlayedBar) -> str:
        """Say where a bar is, as a student finds it; one that is not in the song has its number alone."""
        if not played.section:
            return say("captions.alone", number=played.number)
        return words(self._where.bar(played))

    def _at_tempo(self, what: str, time: BarTime) -> str:
        """Say how fast it is, in the beats in which tempos are chosen."""
        return at_tempo(what, self._playback, time, self._unit)

    def _following(self, time: BarTime, after: BarTime | None) -> str:
        """Say with which chord the next bar begins, so that the hand can be on its way; "" if it is held already."""
        if after is None or after.played is None or not after.played.bar.voicings:
            return ""
        chord = after.played.bar.voicings[0].voicing.name
        held = time.played.bar.voicings if time.played is not None else ()
        if held and held[-1].voicing.name == chord:
            return ""
        return f"<c.next>{say('captions.next', chord=words(self._name(chord)))}</c>"

    def _chords(self, time: BarTime, played: PlayedBar) -> Iterator[tuple[Fraction, str]]:
        """Yield the chords of a bar, where they change."""
        found = self._places.chords(time, played)
        for _, same in groupby(found, key=_name):
            yield next(same)

    def _timed(self, marks: list[tuple[Fraction, str]], start: int, end: int) -> str:
        """Return marks in a row, each after its time where that is inside the bar and later than the last."""
        said, last = [], start
        for at, mark in marks:
            shown = self._shown(at)
            inside = last < shown < end
            last = shown if inside else last
            said.append(f"<{timestamp(shown)}>{mark}" if inside else mark)
        return " ".join(said)


def at_tempo(what: str, playback: Playback, time: BarTime, unit: Fraction) -> str:
    """Say what is heard and how fast, in beats of a length in quarter notes."""
    quarters = playback.clock.span_at(time.start).quarters
    return say("captions.at", what=what, tempo=number_words(round(quarters / unit, 1)))


def _count(at: Fraction, start: Fraction, bar: TimedBar) -> int:
    """Return what is counted at a position in a bar that begins at position `start`."""
    return bar.meter.count_at(at - start + bar.start).number


def _sung(played: PlayedBar) -> str:
    sung = played.sung
    text = words(as_written([sung.text])) if sung is not None else ""
    return f"<c.words>{text}</c>" if text else ""


def _place(mark: tuple[Fraction, str]) -> Fraction:
    return mark[0]


def _name(chord: tuple[Fraction, str]) -> str:
    return chord[1]
