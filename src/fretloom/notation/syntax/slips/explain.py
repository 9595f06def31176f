"""Explains the faults of a line by the one slip that they come from.

It looks only at lines that cannot be read, so that nothing that means something is taken for a slip.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from fretloom.notation.syntax.slips import bars, beats, orders, shows
from fretloom.notation.syntax.slips.comments import comment_behind
from fretloom.notation.syntax.slips.find import blanked
from fretloom.notation.syntax.slips.slip import Slip

#: Faults that may come from a habit; others say by themselves what is wrong.
EXPLAINED = frozenset(
    (
        "not-understood",
        "unknown-word",
        "bad-pluck",
        "bad-frets",
        "unclosed-bracket",
        "empty-bar",
        "empty-beat",
    )
)
#: Longer lines are not written by people, and take long.
_LONGEST = 400
_BRACES = re.compile(r"\{([^{}]*)\}")


def explained_by(text: str, block: str, rules: Iterable[str]) -> Slip | None:
    """Return the slip that explains the faults of a statement, None if none is known.

    Args:
        block: the word that opens the block of the line, "" for a line in column one.
        rules: the rules of its faults.
    """
    if not set(rules) <= EXPLAINED or len(text) > _LONGEST:
        return None
    blank = blanked(text)
    found = comment_behind(text, blank, block)
    if found is not None or not block:
        return found or orders.of_an_opening(text, blank)
    if block == "patterns":
        return beats.of_a_pattern(text, blank)
    if block == "section":
        return (
            bars.of_a_line(text, blank) or bars.of_a_bar(text, blank) or _braces(text, blank, rules)
        )
    if block == "form":
        return (
            orders.of_a_form(text, blank)
            or bars.of_a_bar(text, blank)
            or _braces(text, blank, rules)
        )
    return shows.of_a_show(text, blank) if block == "step" else None


def _braces(text: str, blank: str, rules: Iterable[str]) -> Slip | None:
    if "bad-pluck" not in rules:
        return None
    slips = (beats.of_beats(blank, *one.span(1)) for one in _BRACES.finditer(blank))
    found = [one for one in slips if one is not None]
    return found[0] if len(found) == 1 else None
