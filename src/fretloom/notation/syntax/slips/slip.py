"""A slip that is found before the grammar sees a line."""

from __future__ import annotations

from fretloom.values import frozen


@frozen
class Slip:
    """A slip found at `start` to `end` of a statement; `in_text` if that is in quotes or prose."""

    rule: str
    start: int
    end: int
    message: str
    hint: str = ""
    in_text: bool = False
