"""Reads Standard MIDI Files strictly, apart from the code that writes them.

Source: MIDI Manufacturers Association, "Standard MIDI Files 1.0" (RP-001), from memory: the header and track chunks, numbers of
variable length, meta events, the end of a track; running status, which it allows, is refused, for we write none.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from attrs import frozen

#: Bytes after the first one of a channel's messages.
_LENGTHS = {0x8: 2, 0x9: 2, 0xA: 2, 0xB: 2, 0xC: 1, 0xD: 1, 0xE: 2}


@frozen
class Sounded:
    """A note: ticks from and to, channel from 1, key, velocity, and the track it stands on."""

    start: int
    end: int
    channel: int
    key: int
    velocity: int
    track: int


@frozen
class Read:
    """A file: `tracks` are lists of (tick, message), a message being its bytes, meta events (kind, data)."""

    division: int
    tracks: tuple[tuple[tuple[int, bytes | tuple[int, bytes]], ...], ...]

    def metas(self, kind: int, track: int | None = None) -> list[tuple[int, bytes]]:
        """Return ticks and data of the meta events of a kind, of one track or of all."""
        wanted = self.tracks if track is None else [self.tracks[track]]
        return [
            (tick, message[1])
            for events in wanted
            for tick, message in events
            if isinstance(message, tuple) and message[0] == kind
        ]

    def texts(self, kind: int) -> list[tuple[int, str]]:
        """Return ticks and words of the texts of a kind."""
        return [(tick, data.decode()) for tick, data in self.metas(kind)]

    def named(self, name: str) -> int:
        """Return the place of the track of a name."""
        return [events[0][1][1].decode() for events in self.tracks].index(name)

    def merged(self) -> list[tuple[int, int, bytes]]:
        """Return tick, track and bytes of the channels' messages, as a player merges the tracks."""
        found = [
            (tick, track, place, message)
            for track, events in enumerate(self.tracks)
            for place, (tick, message) in enumerate(events)
            if isinstance(message, bytes)
        ]
        return [(tick, track, message) for tick, track, _, message in sorted(found)]

    def notes(self) -> list[Sounded]:
        """Return the notes by start; each ends before another of its key begins on its channel."""
        sounding: dict[tuple[int, int], tuple[int, int, int]] = {}
        found = []
        for tick, track, message in self.merged():
            kind, channel = message[0] >> 4, (message[0] & 15) + 1
            if kind not in (8, 9):
                continue
            key, velocity = message[1:]
            if kind == 9:
                assert velocity, "a note on with velocity 0 is a note off"
                assert (channel, key) not in sounding, "a key begins that has not ended"
                sounding[channel, key] = tick, velocity, track
                continue
            start, struck, begun = sounding.pop((channel, key))
            assert begun == track, "a note ends on another track than its own"
            assert tick > start
            found.append(Sounded(start, tick, channel, key, struck, track))
        assert not sounding, "a note never ends"
        return sorted(found, key=lambda note: (note.start, note.end, note.key))

    def seconds(self, tick: int) -> Fraction:
        """Return when a tick comes, by the tempos of the first track."""
        found, before, micro = Fraction(0), 0, 500_000
        for at, data in self.metas(0x51, 0):
            if at >= tick:
                break
            found += Fraction(micro * (at - before), self.division * 1_000_000)
            before, micro = at, int.from_bytes(data, "big")
        return found + Fraction(micro * (tick - before), self.division * 1_000_000)


def read_midi(data: bytes) -> Read:
    """Read a file of format 1."""
    chunks = list(_chunks(data))
    kind, head = chunks[0]
    assert (kind, len(head)) == (b"MThd", 6)
    form, count, division = (int.from_bytes(head[place : place + 2], "big") for place in (0, 2, 4))
    assert form == 1
    assert [kind for kind, _ in chunks[1:]] == [b"MTrk"] * count
    assert 0 < division < 0x8000, "the first bit would make it frames of film"
    found = Read(division, tuple(tuple(_events(body)) for _, body in chunks[1:]))
    for track in range(1, count):
        for only_first in (0x51, 0x58, 0x59):
            assert not found.metas(only_first, track), (
                "tempo, meter and key stand on the first track"
            )
    return found


def _chunks(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    at = 0
    while at < len(data):
        length = int.from_bytes(data[at + 4 : at + 8], "big")
        body = data[at + 8 : at + 8 + length]
        assert len(body) == length
        yield data[at : at + 4], body
        at += 8 + length


def _number(body: bytes, at: int) -> tuple[int, int]:
    found = 0
    for place in range(4):
        found = found << 7 | body[at + place] & 0x7F
        if body[at + place] < 0x80:
            assert place == 0 or body[at] != 0x80, "a number begins with nothing"
            return found, at + place + 1
    raise AssertionError("a number has more than four bytes")


def _events(body: bytes) -> Iterator[tuple[int, bytes | tuple[int, bytes]]]:
    at = tick = 0
    while at < len(body):
        wait, at = _number(body, at)
        tick += wait
        status = body[at]
        assert status >= 0x80, "running status"
        if status == 0xFF:
            kind = body[at + 1]
            length, at = _number(body, at + 2)
            yield tick, (kind, body[at : at + length])
            at += length
            if kind == 0x2F:
                assert at == len(body), "something stands behind the end of a track"
                return
            continue
        length = _LENGTHS[status >> 4]
        message = body[at : at + 1 + length]
        assert len(message) == 1 + length and all(one < 0x80 for one in message[1:])
        yield tick, message
        at += 1 + length
    raise AssertionError("a track has no end")
