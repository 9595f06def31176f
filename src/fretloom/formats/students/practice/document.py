"""The practice path of a lesson as an export."""

from __future__ import annotations

from fretloom.formats.shape import Output, file_name
from fretloom.formats.students.practice.options import PracticeOptions
from fretloom.formats.students.practice.page import practice_text
from fretloom.performance.reading import Reading
from fretloom.practising.path import practice_path


def write(reading: Reading, options: PracticeOptions) -> tuple[Output, ...]:
    """Write the practice path of a lesson.

    Raises:
        FretloomError: nothing is played in the lesson, or the days go beyond what a calendar has.
    """
    text = practice_text(practice_path(reading, options.wish), options.width)
    return (Output(file_name(reading.lesson, ".practice.txt"), text),)
