"""The tracks of the guitar: what the thumb plays, and what the fingers play."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from fretloom.formats.shape import LeftOut, left_out_at
from fretloom.formats.sound.midi.channels import ChannelNote, Channels, role_of
from fretloom.formats.sound.midi.notes import WIDEST, MidiNote, notes_of
from fretloom.formats.sound.midi.programs import MUTED
from fretloom.formats.sound.midi.smf import (
    BEND,
    NAME,
    OFF,
    ON,
    SETUP,
    Event,
    bend,
    bend_range,
    note_off,
    note_on,
    program,
    text,
)
from fretloom.performance.playback.sounds import Playback
from fretloom.trade.phrases.table import say

#: The ranges that bends are set to, in semitones: the first that is wide enough. The first is what is usual
#: without being asked for, so that it is right also where nobody listens.
RANGES = (2, 12, WIDEST)
_NO_BEND = 8192


class GuitarTracks:
    """The two tracks of the strings in a playback, whose sounds are those of a program (from 1)."""

    def __init__(self, playback: Playback, program_number: int) -> None:
        self._playback, self._program = playback, program_number
        self.left_out: list[LeftOut] = []
        self.thumb: list[Event] = []
        self.fingers: list[Event] = []
        self.last = 0
        notes = self._notes()
        self._range = _range_of(notes)
        self._channels = Channels({role_of(note) for note in notes})
        self._write(notes)

    def _notes(self) -> list[MidiNote]:
        """Return all notes in order of time; what is higher or lower than MIDI goes is left out."""
        clock, found = self._playback.clock, []
        for sound in self._playback.sounds:
            for note in notes_of(sound, clock):
                if 0 <= note.key <= 127:
                    found.append(note)
                else:
                    self._leave("notes beyond the 128 keys that MIDI has", note)
        found.sort(key=_start)
        return found

    def _leave(self, what: str, note: MidiNote) -> None:
        played = self._playback.bars[note.bar].played
        self.left_out.append(LeftOut(what) if played is None else left_out_at(what, played))

    def _write(self, notes: list[MidiNote]) -> None:
        used: dict[bool, dict[int, str]] = {True: {}, False: {}}
        bent: dict[int, int] = {}
        for placed in self._channels.place(notes):
            if isinstance(placed, MidiNote):
                self._leave(
                    "notes that sound on more strings at once than MIDI has channels", placed
                )
                continue
            note, channel = placed.note, placed.channel
            used[note.thumb].setdefault(channel, note.voice)
            events = self.thumb if note.thumb else self.fingers
            if placed.bends:
                events += self._bends(placed, bent)
            elif note.bends:
                self._leave("bends on more strings at once than MIDI has channels", note)
            events.append((note.start, ON, note_on(channel, note.key, note.velocity)))
            events.append((note.end, OFF, note_off(channel, note.key)))
            self.last = max(self.last, note.end)
        self.thumb += self._setup(used[True], bent)
        self.fingers += self._setup(used[False], bent)

    def _bends(self, placed: ChannelNote, bent: dict[int, int]) -> Iterable[Event]:
        """Yield the bends of a note that has its channel for itself."""
        note, channel = placed.note, placed.channel
        for at, semitones in note.bends or ((note.start, Fraction(0)),):
            value = _NO_BEND + round(semitones * _NO_BEND / self._range)
            value = max(0, min(2 * _NO_BEND - 1, value))
            if value != bent.get(channel, _NO_BEND):
                bent[channel] = value
                yield at, BEND, bend(channel, value)

    def _setup(self, used: dict[int, str], bent: dict[int, int]) -> Iterable[Event]:
        """Yield what a track's channels have to know first."""
        dead = self._channels.own.get("dead")
        for channel in sorted(used):
            yield 0, SETUP, program(channel, MUTED if channel == dead else self._program)
            if channel in bent:
                for control in bend_range(channel, self._range):
                    yield 0, SETUP, control


def named(key: str, events: Sequence[Event]) -> list[Event]:
    """Return the events of a track with its name before them: a text of the table of phrases."""
    return [(0, SETUP, text(NAME, say(f"midi.{key}"))), *events]


def _range_of(notes: Iterable[MidiNote]) -> int:
    most = max((abs(semitones) for note in notes for _, semitones in note.bends), default=0)
    return next((one for one in RANGES if one >= most), RANGES[-1])


def _start(note: MidiNote) -> int:
    return note.start
