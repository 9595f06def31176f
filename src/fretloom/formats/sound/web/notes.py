"""What is heard as short lists of numbers: each kind of note, each bar and each meter once, however often it comes.

Times are whole ticks. They are those of the playback, rounded; nothing is reckoned anew.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import Any

from attrs import field

from fretloom.formats.sound.guitar.string.making import struck_as
from fretloom.formats.sound.ticks import tick
from fretloom.performance.events import Settings
from fretloom.performance.playback.counting import clicks
from fretloom.performance.playback.sounds import (
    BarTime,
    FretMove,
    Playback,
    SlapSound,
    StringSound,
)
from fretloom.values import frozen

#: A list that becomes JSON: numbers, short words, and lists of them.
Row = list[Any]


class Rows:
    """Different rows, each with its number."""

    def __init__(self) -> None:
        self.rows: list[Row] = []
        self._known: dict[str, int] = {}

    def number(self, row: Row) -> int:
        """Return the number of a row, which is added where it is new."""
        found = self._known.setdefault(str(row), len(self.rows))
        if found == len(self.rows):
            self.rows.append(row)
        return found


@frozen(eq=False)
class NotePool:
    """Collects what the players of a page have in common, and says each of them by its numbers.

    `kinds` are notes: string times two, and one more for the second string of a course; MIDI number; fret, counted
    from the capo; finger; loudness; how long it sounds; the first letter of what ends it. Where there is more: every
    which partial sounds, whether it is dead, whether it vibrates, and moves, each as five: the first letter of what
    it is, begin, end, fret, MIDI number.

    `bars`: meter, length, how much of the meter is before it; notes: from the one before to this, and its kind;
    slaps: where, whether on the strings, loudness. `meters`: length, and clicks: where, and how strong.
    """

    settings: Settings
    kinds: Rows = field(factory=Rows)
    bars: Rows = field(factory=Rows)
    meters: Rows = field(factory=Rows)

    def taken(self, playback: Playback) -> list[int]:
        """Return the numbers of the bars of a playback, in order."""
        notes: list[list[StringSound]] = [[] for _ in playback.bars]
        slaps: list[list[SlapSound]] = [[] for _ in playback.bars]
        for sound in playback.sounds:
            notes[sound.bar].append(sound)
        for slap in playback.slaps:
            slaps[slap.bar].append(slap)
        return [
            self._bar(bar, here, knocks)
            for bar, here, knocks in zip(playback.bars, notes, slaps, strict=True)
        ]

    def _bar(self, bar: BarTime, notes: Sequence[StringSound], slaps: Sequence[SlapSound]) -> int:
        start = bar.start
        row: Row = [
            self._meter(bar),
            tick(bar.end - start),
            0 if bar.played is None else tick(bar.played.bar.start),
        ]
        places: Row = []
        before = 0
        for sound in notes:
            at = tick(sound.at - start)
            places += [at - before, self._kind(sound, start)]
            before = at
        row.append(places)
        knocks: Row = []
        for one in slaps:
            knocks += [tick(one.at - start), int(one.slap.place == "strings"), one.loudness]
        return self.bars.number([*row, knocks] if knocks else row)

    def _meter(self, bar: BarTime) -> int:
        if bar.played is None:
            return 0
        meter = bar.played.bar.meter
        places = [one for at, strong in clicks(meter) for one in (tick(at), strong)]
        return self.meters.number([tick(meter.length), *places])

    def _kind(self, sound: StringSound, start: Fraction) -> int:
        every, fret, midi = struck_as(sound, self.settings)
        note, at = sound.note, tick(sound.at - start)
        row: Row = [
            sound.string * 2 + sound.mate, rounded(midi), fret, note.finger, sound.loudness,
            tick(sound.until - start) - at, sound.ends[0],
        ]  # fmt: skip
        moves = [one for move in sound.moves for one in _move(move, start, at)]
        vibrates = int(note.technique.vibrato)
        if every > 1 or note.dead or vibrates or moves:
            row += [every, int(note.dead), vibrates, *moves]
        return self.kinds.number(row)


def _move(move: FretMove, start: Fraction, at: int) -> Iterable[Any]:
    begin, end = tick(move.at - start) - at, tick(move.until - start) - at
    # A bend and its release are the same to a string: it glides.
    kind = {"hammer-on": "h", "pull-off": "p", "slide": "s"}.get(move.kind, "b")
    return (kind, begin, end, move.fret, rounded(float(move.midi)))


def tempos_of(playback: Playback) -> list[float]:
    """Return every change of tempo: from which tick, and how many quarter notes a minute."""
    return [
        one
        for span in playback.clock.spans
        for one in (tick(span.start), rounded(float(span.quarters)))
    ]


def rounded(value: float) -> float:
    """Return a number with so few decimals that it is written shortly; a whole one without a point."""
    short = round(value, 4)
    return int(short) if short == int(short) else short
