"""The line around a place in a text that is being typed: which block it belongs to, and how it is read."""

from __future__ import annotations

import re

from fretloom.limits import LIMITS
from fretloom.notation.highlighting.kinds import LINE_RULES, OPENING_RULES
from fretloom.notation.model.words import OPENERS
from fretloom.notation.syntax.lines import comment_at
from fretloom.notation.syntax.signs import QUOTED, is_closed
from fretloom.source import Source, Span
from fretloom.values import frozen

_WORD = re.compile(r"[^\s:]*")
#: What belongs to a word of the notation that may be typed to its end.
_WORD_SIGNS = re.compile(r"[^\s|:,{}\"+()\[\]]*")
_QUOTED = re.compile(QUOTED)
_SHOW = re.compile(r"show(?!\S)")


@frozen
class LineAt:
    """A line and a place in it.

    Args:
        source: the text.
        start: offset at which the line begins behind its indentation.
        body: the line from there on, with its comment.
        at: the place, counted from `start`; below 0 it is in the indentation.
        rule: of the grammar, which reads the line; "opening" if it begins in column one and its
            first word opens no line that is read by a rule; "" if nothing reads it.
        block: the word that opened the block the line stands in, "" if none did.
        continues: whether it goes on with the pattern of a line above.
    """

    source: Source
    start: int
    body: str
    at: int
    rule: str
    block: str
    continues: bool = False

    @property
    def before(self) -> str:
        """The line up to the place."""
        return self.body[: max(self.at, 0)]

    @property
    def in_comment(self) -> bool:
        """Whether the place is in the comment."""
        sign = comment_at(self.body)
        return sign is not None and self.at > sign

    @property
    def comment_sign(self) -> int | None:
        """Where the comment begins, counted from `start`."""
        return comment_at(self.body)

    @property
    def quoted(self) -> str | None:
        """What stands before the place in quotes that are still open there, None if there are none."""
        for found in _QUOTED.finditer(self.body):
            if found.start() < self.at and (self.at < found.end() or not is_closed(found)):
                return self.body[found.start() + 1 : self.at]
        return None

    def word(self) -> Span | None:
        """Return the word that the place is in or at an end of; None if there is none."""
        at = max(self.at, 0)
        first, least = at, at - 2 * LIMITS.word
        while first > max(least, 0) and _WORD_SIGNS.fullmatch(self.body[first - 1]):
            first -= 1
        found = _WORD_SIGNS.match(self.body, first)
        if found is None or not found[0] or found.end() < at:
            return None
        return self.span(first, found.end())

    def span(self, first: int, last: int) -> Span:
        """Return a piece of the line, counted from `start`."""
        return Span(self.source, self.start + first, self.start + last)


def line_at(source: Source, offset: int) -> LineAt:
    """Return the line around a place; an offset outside the text counts as the nearest in it."""
    offset = min(max(offset, 0), len(source.text))
    number = source.position(offset)[0]
    begin = source.line_starts()[number - 1]
    text = source.line_text(number)
    body = text.lstrip(" \t")
    start = begin + len(text) - len(body)
    indented = start > begin
    block = _first_word(source.opening_before(begin)) if indented else ""
    rule = LINE_RULES.get(block, "")
    if not indented:
        word = _first_word(body)
        opens = word in OPENING_RULES and len(body) > len(word) and offset - start > len(word)
        rule = f"{word}_line" if opens else "opening"
    elif block == "step" and not _SHOW.match(body):
        rule = ""
    continues = block == "patterns" and body.startswith("|")
    # Between a CR and its LF is the end of the line too.
    at = min(offset - start, len(body))
    return LineAt(source, start, body, at, rule, block, continues)


def _first_word(text: str) -> str:
    found = _WORD.match(text)
    word = found[0] if found else ""
    return word if word in OPENERS else ""
