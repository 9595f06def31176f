"""A slip that is found before the grammar sees a line, or that explains why it cannot read it."""

from __future__ import annotations

from fretloom.values import frozen


@frozen
class Slip:
    """A slip found at `start` to `end` of a statement; `in_text` if that is in quotes or prose.

    `meant` is what to write in its place, if it can only have meant that.
    """

    rule: str
    start: int
    end: int
    message: str
    hint: str = ""
    in_text: bool = False
    meant: str = ""
