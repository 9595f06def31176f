"""Slips that are best found before the grammar sees the line: quotes and brackets left open."""

from __future__ import annotations

import re
import unicodedata

from fretloom.diagnostics import Edit
from fretloom.source import Span
from fretloom.values import frozen

MOST_NESTED = 16
_TEXT = re.compile(r'"(?:[^"\\]|\\.)*"')
_PAIRS = {")": "(", "]": "[", "}": "{"}
_CLOSERS = {opener: closer for closer, opener in _PAIRS.items()}
_BRACKET = re.compile(r"[()\[\]{}|]")
_CURLY_QUOTES = re.compile("[“”„‟«»]")
_REPEAT_SIGN = re.compile(r"\|\s*:(?=\s|$)|(?<=\s):\s*\|")
_PATTERNED = ("pattern_line", "body_line", "form_line", "bar")
_BRACKETED_NAME = re.compile(r"[^\W\d_][^\s|:{}\"%,(]*\([^\s|:{}\"()]*\)")


@frozen
class Slip:
    """A slip found at `start` to `end` of a statement."""

    rule: str
    start: int
    end: int
    message: str
    hint: str = ""
    mended: str | None = None

    def edits(self, span: Span) -> tuple[Edit, ...]:
        """Return the safe edit that mends it, if there is one."""
        if self.mended is None:
            return ()
        return (Edit(span=span, text=self.mended, title=self.hint),)


def find_slip(text: str, start_rule: str) -> Slip | None:
    """Return the first slip in a statement, if there is one."""
    return (
        _curly(text)
        or _open_quote(text)
        or (_brackets(text) if start_rule in _PATTERNED else None)
        or (_repeat_sign(text) if start_rule == "body_line" else None)
    )


def _blanked(text: str) -> str:
    """Return the text with everything in quotes made blank, so that offsets stay true."""
    if '"' not in text:
        return text
    return _TEXT.sub(lambda match: " " * len(match[0]), text)


def find_hidden(text: str) -> Slip | None:
    """Find a character that cannot be seen; inside quotes only control characters are wrong."""
    if text.isascii() and text.isprintable():
        return None
    outside = _blanked(text)
    for position, character in enumerate(text):
        category = unicodedata.category(character)
        if (
            (category == "Cc" and character != "\t")
            or category == "Cs"
            or character in "\ufffe\uffff"
            or (category in ("Cf", "Cs", "Zl", "Zp") and outside[position] != " ")
        ):
            name = unicodedata.name(character, f"control character {ord(character)}").lower()
            message = f"there is an invisible character here ({name})"
            return Slip("hidden-character", position, position + 1, message, "delete it", "")
    return None


def _curly(text: str) -> Slip | None:
    if text.isascii():
        return None
    match = _CURLY_QUOTES.search(_blanked(text))
    if match is None:
        return None
    message = f"{match[0]} is a printer's quotation mark; a lesson needs the straight one"
    return Slip("curly-quote", match.start(), match.end(), message, 'write " instead', '"')


def _open_quote(text: str) -> Slip | None:
    if '"' not in text:
        return None
    position = _blanked(text).find('"')
    if position < 0:
        return None
    message = "the quotation mark that opens here is not closed on this line"
    return Slip("unclosed-quote", position, len(text), message, 'add a " where the text ends')


def _brackets(text: str) -> Slip | None:
    """Find a bracket without its partner; the pairs in chord names are passed over."""
    if not any(bracket in text for bracket in "()[]{}"):
        return None
    text = _BRACKETED_NAME.sub(lambda match: " " * len(match[0]), _blanked(text))
    opened: list[tuple[str, int]] = []
    for found in _BRACKET.finditer(text):
        sign, position = found[0], found.start()
        if sign in _CLOSERS:
            opened.append((sign, position))
            if len(opened) > MOST_NESTED:
                message = f"brackets are nested more than {MOST_NESTED} deep here"
                return Slip(
                    "nested-too-deep", position, position + 1, message, "write the beat more simply"
                )
        elif sign in _PAIRS:
            if not opened or opened[-1][0] != _PAIRS[sign]:
                return _stray(sign, position, opened)
            opened.pop()
        elif sign == "|" and opened:
            return _unclosed(*opened[-1])
    return _unclosed(*opened[-1]) if opened else None


def _stray(sign: str, position: int, opened: list[tuple[str, int]]) -> Slip:
    if opened:
        return _unclosed(*opened[-1])
    message = f"there is no {_PAIRS[sign]} before this {sign}"
    hint = f"delete the {sign}, or add a {_PAIRS[sign]} where it should start"
    return Slip("unclosed-bracket", position, position + 1, message, hint)


def _unclosed(sign: str, position: int) -> Slip:
    message = f"the {sign} that opens here is not closed"
    hint = f"add a {_CLOSERS[sign]} where it should end"
    return Slip("unclosed-bracket", position, position + 1, message, hint)


def _repeat_sign(text: str) -> Slip | None:
    match = _REPEAT_SIGN.search(_blanked(text))
    if match is None:
        return None
    message = "repeat signs are written as words in a lesson"
    hint = "put a line `repeat 2` before what is repeated and a line `end` after it"
    return Slip("not-understood", match.start(), match.end(), message, hint)
