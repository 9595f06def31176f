"""What a lesson in words does not say."""

from __future__ import annotations

from fretloom.formats.beside import Held, beside_the_music
from fretloom.formats.shape import LeftOut
from fretloom.performance.reading import Reading


def left_out(reading: Reading) -> tuple[LeftOut, ...]:
    """Return what the lesson says and its words do not."""
    shown: tuple[Held, ...] = ("steps", "titles of sections", "titles of patterns")
    return tuple(beside_the_music(reading, "a lesson in words", shown))
