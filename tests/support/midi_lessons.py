"""Short lessons as MIDI."""

from __future__ import annotations

from midi_read import Read, read_midi
from reading_through import reading_of

from fretloom.formats.shape import in_words
from fretloom.formats.sound.clicking import Clicks
from fretloom.formats.sound.midi.document import write
from fretloom.formats.sound.midi.options import MidiOptions
from fretloom.performance.playback.play import play
from fretloom.performance.playback.sounds import Playback

HEAD = """\
lesson "{title}"
{fields}
voicings
  E  022100
  D  xx0232
"""
#: Of a quarter note.
TICKS = 10_080


def lesson(body: str, *fields: str, title: str = "Lock") -> str:
    """Return the text of a lesson with bars of the voicings E and D."""
    return HEAD.format(title=title, fields="".join(f"  {one}\n" for one in fields)) + body


def bars(line: str, *fields: str, title: str = "Lock") -> str:
    """Return the text of a lesson of one section."""
    return lesson(f'section verse "Verse"\n  {line}\n', *fields, title=title)


def midi_of(text: str, *, clicks: Clicks = "count-in") -> Read:
    """Return a lesson's MIDI, read again."""
    return read_midi(bytes_of(text, clicks=clicks))


def bytes_of(text: str, *, clicks: Clicks = "count-in") -> bytes:
    """Return a lesson's MIDI."""
    return write(reading_of(text), MidiOptions(clicks=clicks))[0].data


def left_out(text: str) -> tuple[str, ...]:
    """Return what the MIDI of a lesson tells that it has not."""
    return in_words(write(reading_of(text), MidiOptions())[0].left_out)


def playback_of(text: str) -> Playback:
    """Return what is heard of a lesson."""
    timeline = reading_of(text).timeline
    return play(timeline.bars, timeline.settings)


def keys(read: Read) -> list[tuple[float, int]]:
    """Return the notes that are not percussion as (quarter notes from the start, key)."""
    return [(note.start / TICKS, note.key) for note in read.notes() if note.channel != 10]
