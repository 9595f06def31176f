"""Reads a lesson through as it stands."""

from fretloom.notation.syntax.read import read
from fretloom.performance.reading import Reading, read_through
from fretloom.source import Source


def reading_of(text: str) -> Reading:
    """Return the reading of a lesson's text, which has no errors."""
    found = read_through(read(Source("weir.lesson", text)))
    wrong = [*found.lesson.faults, *found.expansion.diagnostics]
    assert not [one.message for one in wrong if str(one.severity) == "error"]
    return found
