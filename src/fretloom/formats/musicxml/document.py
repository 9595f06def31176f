"""Writes a lesson as MusicXML 4.0.

What is written is the performance, every bar in full. The fingers are voice 1 and the thumb voice 2
on a staff of notation, and the same notes stand again on a tablature staff below.
"""

from __future__ import annotations

from fretloom.formats.musicxml.options import ScoreOptions
from fretloom.formats.musicxml.score import score_of_lesson
from fretloom.formats.shape import Output, file_name
from fretloom.performance.reading import Reading


def write(reading: Reading, options: ScoreOptions) -> tuple[Output, ...]:
    """Write what is played as a MusicXML 4.0 file in UTF-8.

    Raises:
        FretloomError: nothing is played, a text has a character that XML cannot hold, or a beat is
            divided too finely for a notation file.
    """
    score, left_out = score_of_lesson(reading, options)
    return (Output(file_name(reading.lesson, ".musicxml"), score, left_out),)
