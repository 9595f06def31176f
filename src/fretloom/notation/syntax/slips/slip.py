"""A slip that is found before the grammar sees a line, or that explains why it cannot read it."""

from __future__ import annotations

import re
from collections.abc import Callable

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


#: Looks through a text; the second one is the text with everything in quotes made blank.
Finder = Callable[[str, str], Slip | None]


def instead(start: int, end: int, message: str, meant: str, hint: str = "") -> Slip:
    """Return the slip for words in whose place something else is meant."""
    return Slip("not-understood", start, end, message, hint or f"write {meant}", meant=meant)


@frozen
class TradeSign:
    """Words or a sign as the trade has them elsewhere, with what is said of them.

    In message and hint `{0}` is all that was found and `{1}` its first group; the slip stands at the
    group `at`. With `in_quotes` what stands in quotes is looked at as well.
    """

    pattern: re.Pattern[str]
    message: str
    hint: str
    at: int = 0
    in_quotes: bool = False

    def __call__(self, text: str, blank: str) -> Slip | None:
        """Look through a text."""
        found = self.pattern.search(text if self.in_quotes else blank)
        if found is None:
            return None
        words = (found[0].strip(), *found.groups(""))
        said = (self.message.format(*words), self.hint.format(*words))
        return Slip("not-understood", *found.span(self.at), *said)
