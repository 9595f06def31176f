"""The first track: title, rights, tempo, meter, key, sections, bars and chords."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import chain

from fretloom.formats.shape import LeftOut, left_out_at
from fretloom.formats.sound.midi.smf import (
    COPYRIGHT,
    CUE,
    MARKER,
    NAME,
    SETUP,
    TEXT,
    Event,
    meta,
    text,
)
from fretloom.formats.sound.places import SoundPlaces
from fretloom.formats.sound.ticks import tick
from fretloom.performance.events import PlayedBar, Settings
from fretloom.performance.playback.sounds import BarTime, Playback
from fretloom.trade.music.meter import Meter
from fretloom.trade.phrases.table import say

_TEMPO, _METER, _KEY = 0x51, 0x58, 0x59
#: Ticks of MIDI's own clock in a quarter note, and thirty-seconds in it.
_CLOCKS, _THIRTY_SECONDS = 24, 8
#: A file has 24 bits for the microseconds of a quarter note.
LONGEST_QUARTER = 0xFFFFFF
#: The shortest note of which a bar may have so many: a hundred and twenty-eighth.
_FINEST = 7


def conductor(playback: Playback, settings: Settings) -> Iterator[Event]:
    """Yield the events of the first track."""
    yield 0, SETUP, text(NAME, settings.title)
    if settings.rights:
        yield 0, SETUP, text(COPYRIGHT, settings.rights)
    if settings.by:
        yield 0, SETUP, text(TEXT, settings.by)
    key = settings.sounds
    if key is not None:
        sharps = key.with_signature.fifths
        yield 0, SETUP, meta(_KEY, bytes((sharps & 0xFF, key.mode == "minor")))
    # Of two tempos at one tick, the later one is in force, and stands last.
    for span in playback.clock.spans:
        data = microseconds(span.quarters).to_bytes(3, "big")
        yield tick(span.start), SETUP, meta(_TEMPO, data)
    yield from _meters(playback, settings)
    yield from _marks(playback, settings)


def left_out_of(playback: Playback, settings: Settings) -> Iterator[LeftOut]:
    """Yield what of tempo, meter and key MIDI cannot say."""
    key = settings.sounds
    if key is not None and key.mode not in ("major", "minor"):
        yield LeftOut(f"that the key is {key}: MIDI has major and minor only")
    if any(microseconds(one.quarters) == LONGEST_QUARTER for one in playback.clock.spans):
        yield LeftOut("tempos below 3.58 quarter notes a minute, which is as slow as MIDI goes")
    said: set[LeftOut] = set()
    for time in playback.bars:
        played = time.played
        if played is None:
            continue
        found = []
        if len(played.bar.meter.groups) > 1:
            whole = f"{played.bar.meter.units}/{played.bar.meter.unit}"
            meter = played.bar.meter
            found.append(LeftOut(f"how {meter} is grouped: MIDI says {whole}"))
        if played.manner.free:
            found.append(left_out_at("free time, which is played in tempo", played))
        yield from (one for one in found if one not in said)
        said.update(found)


def _meters(playback: Playback, settings: Settings) -> Iterator[Event]:
    """Yield a meter where it changes, and where a bar begins that could not be counted from the last meter."""
    before: tuple[int, int, int] | None = None
    for time, meter in zip(playback.bars, _meters_of(playback, settings), strict=True):
        length = time.end - time.start
        count, power = signature(meter, length)
        said = (count, power, _clocks(meter))
        if said != before:
            yield (
                tick(time.start),
                SETUP,
                meta(_METER, bytes((*said[:2], said[2], _THIRTY_SECONDS))),
            )
        # After a bar that is no whole number of notes, bars are counted anew.
        whole = Fraction(4 * count, 2**power) == length
        before = said if whole else None


def _meters_of(playback: Playback, settings: Settings) -> list[Meter]:
    """Return the meter of each bar; one that is only counted in has that of the next."""
    found: list[Meter] = []
    meter = next(
        (one.played.bar.meter for one in reversed(playback.bars) if one.played), settings.meter
    )
    for time in reversed(playback.bars):
        if time.played is not None:
            meter = time.played.bar.meter
        found.append(meter)
    found.reverse()
    return found


def signature(meter: Meter, length: Fraction) -> tuple[int, int]:
    """Return how many notes of which power of 1/2 a bar has: a short bar those that it holds.

    One that no such notes fill, up to 255 of them, has those of its meter.
    """
    power = meter.unit.bit_length() - 1
    for finer in chain([power], range(power + 1, _FINEST + 1)):
        count = length * 2**finer / 4
        if count.denominator == 1 and 0 < count <= 255:
            return int(count), finer
    return meter.units, power


def _clocks(meter: Meter) -> int:
    """Return how many of MIDI's clocks a metronome's click lasts."""
    beat = meter.beats[0] if len(set(meter.beats)) == 1 else meter.count_length
    return max(1, min(255, round(beat * _CLOCKS)))


def _marks(playback: Playback, settings: Settings) -> Iterator[Event]:
    places = SoundPlaces(settings)
    for time in playback.bars:
        at, played = tick(time.start), time.played
        if played is None:
            yield at, SETUP, text(TEXT, say("midi.count-in"))
            continue
        if played.first:
            yield at, SETUP, text(MARKER, played.title or played.section)
        yield at, SETUP, text(TEXT, _bar_words(played))
        if played.bar.cue:
            yield at, SETUP, text(CUE, played.bar.cue)
        yield from _chords(time, played, places)


def _bar_words(played: PlayedBar) -> str:
    return say("midi.bar", number=played.number) if played.number else say("midi.pickup")


def _chords(time: BarTime, played: PlayedBar, places: SoundPlaces) -> Iterator[Event]:
    for position, name in places.chords(time, played):
        yield tick(position), SETUP, text(TEXT, name)


def microseconds(quarters: Fraction) -> int:
    """Return how long a quarter note lasts at a tempo in quarter notes a minute, to the nearest microsecond.

    At most `LONGEST_QUARTER`, 1 at least.
    """
    exact = Fraction(60_000_000) / quarters
    return max(1, min(LONGEST_QUARTER, round(exact)))
