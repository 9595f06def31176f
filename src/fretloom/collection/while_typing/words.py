"""What the reference says of the words of the notation, by the lines that they stand in."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from functools import cache
from typing import Any

from fretloom.notation.model.words import SECTION_WORDS
from fretloom.notation.syntax.fields.table import FIELDS
from fretloom.package_data import packaged_text
from fretloom.trade.guitar.voicing import NO_CHORD, is_no_chord
from fretloom.values import frozen

#: Where else to look for the words of a line.
_ALSO = {"body_line": ("bar",)}
_TIMES = re.compile(r"x\d+")
#: What else is read for a word.
_SHORT = {
    "rit": "ritardando", "rall": "ritardando", "rallentando": "ritardando",
    "accel": "accelerando", "cresc": "crescendo", "dim": "diminuendo",
    "decresc": "diminuendo", "decrescendo": "diminuendo", "string-slap": "slap",
}  # fmt: skip


@frozen
class WordHelp:
    """A word of the notation, what the reference says of it, and a line that is right, if one is needed."""

    word: str
    says: str
    like_this: str = ""


@cache
def _tables() -> dict[str, Any]:
    return tomllib.loads(packaged_text("fretloom.collection.while_typing", "words.toml"))


def reference() -> Mapping[str, Mapping[str, str]]:
    """Return what the reference says of each word, by the rule of the grammar that reads its line."""
    return {place: rows for place, rows in _tables().items() if place != "examples"}


def examples() -> Mapping[str, Mapping[str, str]]:
    """Return a line for each word that is right in its place, as `reference`."""
    rows: dict[str, dict[str, str]] = _tables()["examples"]
    return rows


def place_of(rule: str, before: str) -> str:
    """Return by which rule of the grammar a word is meant that stands behind the beginning of a line.

    That is "bar" in a bar, also behind the colon of a line that changes bars, and "pattern_line"
    for beats that are written out in a bar.
    """
    if rule not in ("body_line", "form_line"):
        return rule
    if before.rfind("{") > before.rfind("}"):
        return "pattern_line"
    head, colon, _ = before.partition(":")
    first = head.split(maxsplit=1)[0] if head.strip() else ""
    if rule == "form_line" or first == "words":
        return "bar" if colon and first != "words" else rule
    in_bar = bool(colon) if first in (*SECTION_WORDS, "using") else bool(first)
    return "bar" if in_bar or before.startswith("|") else rule


def word_help(rule: str, word: str) -> WordHelp | None:
    """Return what the reference says of a word, None if it says nothing.

    Args:
        rule: of the grammar, by which it is meant (see `place_of`); "opening" for the words that
            open blocks, "technique" for those behind a pluck.
        word: as it is written.
    """
    if rule == "setting_line":
        return _field_help(word)
    row = _row(word)
    for place in (rule, *_ALSO.get(rule, ())):
        says = _tables().get(place, {}).get(row)
        if says is not None:
            return WordHelp(word, says, examples().get(place, {}).get(row, ""))
    return None


def _row(word: str) -> str:
    """Return the word under which another way to write it is explained."""
    if _TIMES.fullmatch(word):
        return "x2"
    if is_no_chord(word):
        return NO_CHORD
    return _SHORT.get(word.rstrip("."), word.rstrip("!>") or word)


def _field_help(word: str) -> WordHelp | None:
    row = FIELDS.get(word)
    if row is None:
        return None
    says = row.meaning + (f"; left out: {row.left_out}" if row.left_out else "")
    return WordHelp(row.word, says, ", ".join(row.examples))
