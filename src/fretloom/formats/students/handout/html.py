"""A lesson as a page for students in HTML."""

from __future__ import annotations

from fretloom.formats.shape import Output, file_name
from fretloom.formats.students.handout.options import HandoutOptions
from fretloom.formats.students.handout.page import page_of
from fretloom.performance.reading import Reading

#: How the files of the sheets end, before the ending of their format.
SHEET_ENDINGS = {"handout": ".handout", "song-sheet": ".song-sheet", "wall-card": ".wall-card"}


def write(reading: Reading, options: HandoutOptions) -> tuple[Output, ...]:
    """Write the page of a lesson.

    Raises:
        FretloomError: nothing is played in the lesson.
    """
    name = file_name(reading.lesson, f"{SHEET_ENDINGS[options.sheet]}.html")
    return (Output(name, page_of(reading, options)),)
