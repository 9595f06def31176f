"""What the reference says of the words of the notation, by the lines that they stand in."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache

from fretloom.notation.syntax.fields.table import FIELDS
from fretloom.notation.syntax.unexpected import LIKE_THIS
from fretloom.package_data import packaged_text
from fretloom.values import frozen

#: Where else to look for the words of a line.
_ALSO = {"body_line": ("bar",), "form_line": ("bar",), "pattern_line": ("bar",)}


@frozen
class WordHelp:
    """A word of the notation, what the reference says of it, and a line that is right, if one is needed."""

    word: str
    says: str
    like_this: str = ""


@cache
def reference() -> Mapping[str, Mapping[str, str]]:
    """Return what the reference says of each word, by the rule of the grammar that reads its line."""
    rows: dict[str, dict[str, str]] = tomllib.loads(
        packaged_text("fretloom.collection.while_typing", "words.toml")
    )
    return rows


def word_help(rule: str, word: str) -> WordHelp | None:
    """Return what the reference says of a word, None if it says nothing.

    Args:
        rule: of the grammar, which reads the line; "opening" for the words that open blocks,
            "technique" for those behind a pluck.
        word: as it is written.
    """
    if rule == "setting_line":
        return _field_help(word)
    for place in (rule, *_ALSO.get(rule, ())):
        says = reference().get(place, {}).get(word)
        if says is not None:
            return WordHelp(word, says, LIKE_THIS.get(word, ""))
    return None


def _field_help(word: str) -> WordHelp | None:
    row = FIELDS.get(word)
    if row is None:
        return None
    says = row.meaning + (f"; left out: {row.left_out}" if row.left_out else "")
    return WordHelp(row.word, says, ", ".join(row.examples))
