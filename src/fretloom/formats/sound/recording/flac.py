"""Writes a recording as FLAC: without loss, in about a third of the size of WAV."""

from __future__ import annotations

from fretloom.formats.shape import Output
from fretloom.formats.sound.recording.coded import outputs
from fretloom.formats.sound.recording.options import RecordingOptions
from fretloom.performance.reading import Reading


def write(reading: Reading, options: RecordingOptions) -> tuple[Output, ...]:
    """Record what is played as FLAC: without loss, in about a third of the size of WAV.

    Raises:
        FretloomError: numpy or soundfile is not installed, or the lesson is too long.
    """
    return outputs(reading, options, "flac", ".flac")
