"""Expands a lesson as it stands."""

from fretloom.notation.model.lesson import Lesson
from fretloom.performance.expansion.expand import Expansion
from fretloom.performance.reading import read_through


def expand(lesson: Lesson) -> Expansion:
    """Return what a lesson comes to."""
    return read_through(lesson).expansion
