"""Writes a recording as Ogg Vorbis: small, for the web and for mail."""

from __future__ import annotations

from fretloom.formats.shape import Output
from fretloom.formats.sound.recording.coded import outputs
from fretloom.formats.sound.recording.options import RecordingOptions
from fretloom.performance.reading import Reading


def write(reading: Reading, options: RecordingOptions) -> tuple[Output, ...]:
    """Record what is played as Ogg Vorbis: small, for the web and for mail.

    Raises:
        FretloomError: numpy or soundfile is not installed, or the lesson is too long.
    """
    return outputs(reading, options, "ogg", ".ogg")
