"""Writes pictures of a score as SVG, a file a page."""

from __future__ import annotations

from fretloom.formats.pictures.options import PictureOptions
from fretloom.formats.pictures.picture import outputs, pictures_of
from fretloom.formats.shape import Output
from fretloom.performance.reading import Reading


def write(reading: Reading, options: PictureOptions) -> tuple[Output, ...]:
    """Draw what is played as SVG, a file a page.

    Raises:
        FretloomError: verovio is not installed, the lesson is too long, or it cannot be written as
            MusicXML (see there).
    """
    pictures, left_out = pictures_of(reading, options)
    return outputs(reading, ".svg", tuple(one.document() for one in pictures), left_out)
