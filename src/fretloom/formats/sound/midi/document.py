"""What is played as a Standard MIDI File: one track for what all share, one for the thumb, one for the fingers."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom.formats.beside import beside_the_music
from fretloom.formats.shape import LeftOut, Output, file_name
from fretloom.formats.sound.choice import chosen_playback
from fretloom.formats.sound.clicking import Clicks
from fretloom.formats.sound.midi.beside import clicked, slapped, sung
from fretloom.formats.sound.midi.conductor import conductor, left_out_of
from fretloom.formats.sound.midi.guitar import GuitarTracks, named
from fretloom.formats.sound.midi.options import MidiOptions
from fretloom.formats.sound.midi.programs import program_of
from fretloom.formats.sound.midi.smf import INSTRUMENT, SETUP, Event, file, text, track
from fretloom.formats.sound.ticks import tick
from fretloom.memory import no_collection
from fretloom.performance.events import Settings
from fretloom.performance.playback.sounds import Playback
from fretloom.performance.reading import Reading
from fretloom.performance.settings import instrument_in
from fretloom.trade.guitar.instruments import Instrument


def write(reading: Reading, options: MidiOptions) -> tuple[Output, ...]:
    """Write the song as a MIDI file."""
    timeline = reading.timeline
    instrument = instrument_in(reading.material, timeline.settings.tuning)
    with no_collection():
        playback = chosen_playback(reading, options)
        data, left_out = to_midi(playback, timeline.settings, instrument, clicks=options.clicks)
    held = beside_the_music(reading, "a MIDI file", ("instrument", "titles of sections"))
    return (Output(file_name(reading.lesson, ".mid"), data, (*held, *left_out)),)


def to_midi(
    playback: Playback, settings: Settings, instrument: Instrument, *, clicks: Clicks = "count-in"
) -> tuple[bytes, tuple[LeftOut, ...]]:
    """Return a MIDI file of a playback, and what it cannot say.

    `clicks` says which bars are clicked.
    """
    guitar = GuitarTracks(playback, program_of(instrument))
    tracks = [list(conductor(playback, settings))]
    name: Event = (0, SETUP, text(INSTRUMENT, instrument.name))
    tracks += [
        [*named("thumb", guitar.thumb), name],
        [*named("fingers", guitar.fingers), name],
    ]
    more = {
        "slaps": slapped(playback),
        "clicks": clicked(playback, clicks),
        "words": sung(playback, settings),
    }
    tracks += _filled(more)
    end = max(tick(playback.end), guitar.last)
    left_out = dict.fromkeys((*guitar.left_out, *left_out_of(playback, settings)))
    return file([track(events, end) for events in tracks]), tuple(left_out)


def _filled(more: dict[str, Iterator[Event]]) -> Iterator[list[Event]]:
    """Yield the tracks in which there is something, each with its name."""
    for key, events in more.items():
        found = list(events)
        if found:
            yield named(key, found)
