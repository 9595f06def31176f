"""The editions of the notation: which there are, and how what older ones wrote otherwise is written now.

Edition 1 is the first. A text says in its first line which edition it is written in, `notation 1`, and without that
line it is edition 1, for ever: so no text that there is changes its meaning. That line is read in every
edition as it is now, before anything else.

A change of the notation after which some text would mean something else, or nothing, is a new edition: one row
more in `OLDER`, for the edition that it follows. What only adds to the notation is none.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from fretloom.values import frozen

FIRST = 1
_LINE = re.compile(r"notation[ \t]+([0-9]+)(?![^ \t])")


@frozen
class OlderEdition:
    """What an edition wrote otherwise than the one that follows it.

    Args:
        says: in a sentence, for people.
        newer: from the word that opens a block ("" for lines in column one) and a statement of this
            edition, without its comment, to the statement of the next edition, on one line too; it is the
            same where nothing is written otherwise.
    """

    says: str
    newer: Callable[[str, str], str]


#: The older editions, the first one first.
OLDER: tuple[OlderEdition, ...] = ()


def present() -> int:
    """Return the edition that lessons are written in."""
    return FIRST + len(OLDER)


def edition_said(statement: str) -> int | None:
    """Return the edition that the first statement of a text names, None if it names none."""
    found = _LINE.match(statement)
    # Python refuses to read thousands of digits; from the seventh on it is later than any.
    return int(found[1].lstrip("0")[:7] or "0") if found else None


def brought_up(edition: int, block: str, statement: str) -> str:
    """Return a statement of an older edition as the present one has it."""
    for older in OLDER[edition - FIRST :]:
        statement = older.newer(block, statement)
    return statement
