"""The bytes of a Standard MIDI File: events, tracks, the file.

Source: MIDI Manufacturers Association, "Standard MIDI Files 1.0" (RP-001) and "MIDI 1.0 Detailed Specification".
Running status is not used: it would save a fifth of the file, and every event can be read by itself without it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cache
from typing import TypeAlias

from fretloom.formats.sound.ticks import TICKS

#: The longest time between two events that a file can say, in ticks (four bytes of seven bits).
LONGEST = 0x0FFFFFFF
#: Kinds of text (meta events).
TEXT, COPYRIGHT, NAME, INSTRUMENT, LYRIC, MARKER, CUE = 1, 2, 3, 4, 5, 6, 7
#: In which order events of one tick stand: what has to be known, what ends, what bends, what begins.
SETUP, OFF, BEND, ON = range(4)

#: Tick, place among those of its tick, and the bytes of the event without the time before it.
Event: TypeAlias = tuple[int, int, bytes]

_END = b"\xff\x2f\x00"
#: Says nothing: a text without letters, for a silence that is longer than `LONGEST`.
_NOTHING = b"\xff\x01\x00"


def number(value: int) -> bytes:
    """Return a number from 0 as seven bits a byte, the first bit of all but the last byte set."""
    if value < 0x80:
        return bytes((value,))
    found = [value & 0x7F]
    while value := value >> 7:
        found.append(value & 0x7F | 0x80)
    return bytes(reversed(found))


def meta(kind: int, data: bytes) -> bytes:
    """Return a meta event."""
    return bytes((0xFF, kind)) + number(len(data)) + data


def text(kind: int, words: str) -> bytes:
    """Return a meta event with words, as UTF-8."""
    return meta(kind, words.encode(errors="replace"))


@cache
def note_on(channel: int, key: int, velocity: int) -> bytes:
    """Return the start of a note; `velocity` is 1 at least, for 0 would end it."""
    return bytes((0x90 | channel, key, velocity))


@cache
def note_off(channel: int, key: int) -> bytes:
    """Return the end of a note, with the usual speed of release."""
    return bytes((0x80 | channel, key, 64))


def program(channel: int, number_from_1: int) -> bytes:
    """Return the choice of a sound, numbered from 1 as in General MIDI."""
    return bytes((0xC0 | channel, number_from_1 - 1))


def bend(channel: int, value: int) -> bytes:
    """Return a pitch bend; `value` is 0 to 16383, and 8192 is none."""
    return bytes((0xE0 | channel, value & 0x7F, value >> 7))


def bend_range(channel: int, semitones: int) -> Iterable[bytes]:
    """Yield what sets how far a bend goes either way (registered parameter 0), and then no parameter."""
    controls = ((101, 0), (100, 0), (6, semitones), (38, 0), (101, 127), (100, 127))
    for control, value in controls:
        yield bytes((0xB0 | channel, control, value))


def track(events: Iterable[Event], end: int) -> bytes:
    """Return a track chunk with events, which may come in any order, that ends at tick `end` at the earliest.

    What has the same tick and the same place in it stays in its order.
    """
    body: list[bytes] = []
    now = 0
    for tick, _, data in sorted(events, key=_place):
        if tick != now:
            _wait(body, tick - now)
            now = tick
        else:
            body.append(b"\0")
        body.append(data)
    _wait(body, max(0, end - now))
    body.append(_END)
    joined = b"".join(body)
    return b"MTrk" + len(joined).to_bytes(4, "big") + joined


def _place(event: Event) -> tuple[int, int]:
    return event[:2]


def _wait(body: list[bytes], ticks: int) -> None:
    while ticks > LONGEST:
        body += number(LONGEST), _NOTHING
        ticks -= LONGEST
    body.append(number(ticks))


def file(tracks: Sequence[bytes]) -> bytes:
    """Return a file of format 1: tracks that are played together, the first with tempo and meter."""
    header = (1, len(tracks), TICKS)
    head = b"".join(one.to_bytes(2, "big") for one in header)
    return b"MThd" + len(head).to_bytes(4, "big") + head + b"".join(tracks)
