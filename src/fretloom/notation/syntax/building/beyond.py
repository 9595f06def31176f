"""Faults of a text that holds nothing, or more than a lesson can."""

from __future__ import annotations

from fretloom.limits import LIMITS
from fretloom.notation.syntax.lines import Line
from fretloom.notation.syntax.reader import Reader
from fretloom.source import Span


def note_empty(reader: Reader) -> None:
    """Note that there is nothing in a text, except perhaps comments."""
    hint = 'start with a line such as: lesson "Kiln Lane Shuffle"'
    place = Span(reader.source, 0, 0)
    reader.fault("empty-lesson", place, "there is nothing in this file", hint)


def note_too_long(reader: Reader, line: Line) -> None:
    """Note a line that is longer than any."""
    message = f"this line has over {LIMITS.line:,} characters, which is more than a line can have"
    reader.fault("too-large", line.span(), message, "write it as several lines")


def note_too_many(reader: Reader, line: Line) -> None:
    """Note that a text is hardly a lesson, so that its rest was not read."""
    message = f"there are more than {LIMITS.faults} faults up to here; the rest was not read"
    reader.fault("too-many-faults", line.span(), message, "mend the first ones and check again")
