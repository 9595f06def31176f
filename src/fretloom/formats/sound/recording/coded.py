"""Writes a recording as FLAC or as Ogg Vorbis, with libsndfile."""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterator, Mapping
from tempfile import SpooledTemporaryFile
from typing import IO, TYPE_CHECKING, Any

from fretloom.characters import nothing_hidden
from fretloom.formats.shape import MadeAnew, Output, file_name
from fretloom.formats.sound.choice import chosen_playback
from fretloom.formats.sound.recording.needed import needed, no_room
from fretloom.formats.sound.recording.options import RecordingOptions
from fretloom.formats.sound.recording.wav import left_out_of, recordings_of
from fretloom.performance.reading import Reading

if TYPE_CHECKING:
    from types import ModuleType

    from fretloom.formats.sound.recording.recorded import Recording

#: What waits in memory before it goes to a temporary file, and how much is handed on at a time.
_IN_MEMORY, _PIECE = 8_000_000, 1 << 18
_NAMES = {"flac": "FLAC", "ogg": "Ogg"}
#: Frames that are encoded at a time: libsndfile's Vorbis takes no more than some thousands safely.
_FRAMES = 4096
#: The number of our streams: one stream a file, so any will do.
SERIAL = 1
_HEADER, _SERIAL_AT, _CHECK_AT = 27, 14, 22
#: Each byte with its bits in reverse order.
_REVERSED = bytes(int(f"{byte:08b}"[::-1], 2) for byte in range(256))
_ALL = 0xFFFFFFFF


def outputs(
    reading: Reading, options: RecordingOptions, form: str, ending: str
) -> tuple[Output, ...]:
    """Record what is played in one of libsndfile's forms.

    Raises:
        FretloomError: numpy or soundfile is not installed, or the lesson is too long.
    """
    library = library_for(form)
    made = recordings_of(chosen_playback(reading, options), reading, options)
    tags = {"title": nothing_hidden(reading.timeline.settings.title)}
    content = MadeAnew(lambda: coded(made(), form, library, tags))
    return (Output(file_name(reading.lesson, ending), content, left_out_of(reading)),)


def library_for(form: str) -> ModuleType:
    """Return the library that writes one of libsndfile's forms.

    Raises:
        FretloomError: it is not installed.
    """
    return needed("soundfile", f"{_NAMES[form]} files are written with soundfile")


def coded(
    recording: Recording, form: str, library: ModuleType, tags: Mapping[str, str]
) -> Iterator[bytes]:
    """Yield a recording as the bytes of a file: `form` is "flac" or "ogg", `tags` what players show."""
    from fretloom.formats.sound.guitar.constants import RATE

    kinds: dict[str, Any] = {
        "flac": {"format": "FLAC", "subtype": "PCM_16"},
        "ogg": {"format": "OGG", "subtype": "VORBIS"},
    }
    with SpooledTemporaryFile(max_size=_IN_MEMORY) as made:
        held = _Waiting(made)
        with library.SoundFile(held, "w", RATE, 2, **kinds[form]) as file:
            for name, value in tags.items():
                setattr(file, name, value)
            for chunk in recording.chunks:
                frames = chunk.T.clip(-1.0, 1.0)
                for start in range(0, len(frames), _FRAMES):
                    file.write(frames[start : start + _FRAMES])
                held.check()
        held.check()
        made.seek(0)
        if form == "ogg":
            yield from with_serial(made)
        while piece := made.read(_PIECE):
            yield piece


def with_serial(stream: IO[bytes]) -> Iterator[bytes]:
    """Yield the pages of a whole Ogg stream, each with our serial number and its checksum (RFC 3533).

    libsndfile takes the number by chance; with ours the same lesson gives the same bytes.
    """
    while head := stream.read(_HEADER):
        segments = stream.read(head[-1])
        page = bytearray(head + segments + stream.read(sum(segments)))
        struct.pack_into("<I", page, _SERIAL_AT, SERIAL)
        struct.pack_into("<I", page, _CHECK_AT, 0)
        struct.pack_into("<I", page, _CHECK_AT, checksum(bytes(page)))
        yield bytes(page)


def checksum(page: bytes) -> int:
    """Return the checksum of a page whose own is 0: CRC-32 from the highest bit on, from 0 and not inverted.

    zlib's goes from the lowest bit on and is inverted at both ends.
    """
    lowest_first = zlib.crc32(page.translate(_REVERSED), _ALL) ^ _ALL
    return int(f"{lowest_first:032b}"[::-1], 2)


class _Waiting:
    """What libsndfile writes to. It calls from C, through which no exception passes: so that waits here."""

    def __init__(self, made: IO[bytes]) -> None:
        self._made = made
        self._wrong: OSError | None = None
        self.seek, self.tell, self.read = made.seek, made.tell, made.read

    def write(self, data: bytes) -> int:
        """Write data, or remember why that was not possible."""
        try:
            self._made.write(data)
        except OSError as error:
            self._wrong = error
        return len(data)

    def flush(self) -> None:
        """Nothing waits."""

    def check(self) -> None:
        """Raise a FretloomError if something could not be written."""
        if self._wrong is not None:
            raise no_room(self._wrong)
