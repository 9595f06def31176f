"""Says of each piece of a text what kind it is, by the grammar: as the reader understands it, not as it looks."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from fretloom.limits import LIMITS
from fretloom.notation.highlighting.kinds import (
    DEFINING,
    ESCAPED,
    LINE_RULES,
    OPENING_RULES,
    TECHNIQUES,
    TextKind,
    kind_of,
)
from fretloom.notation.model.margin import ALLOWING
from fretloom.notation.model.words import OPENERS
from fretloom.notation.syntax.lines import Line, joined, split
from fretloom.notation.syntax.parsing.scanning import scanned
from fretloom.source import Source
from fretloom.values import frozen

_TECHNIQUES = re.compile(TECHNIQUES)
_ESCAPED = re.compile(ESCAPED)
_ALLOWING = re.compile(ALLOWING, re.I)
_SHOW = "show"
#: What stands before the name of the block that the lines of a part belong to.
_PART = "part of "
#: All of them; of two that fit as well, the first one is taken.
_PARTS = tuple(dict.fromkeys(_PART + name for name in ("section", *LINE_RULES)))


@frozen
class Marked:
    """A piece of a text and its kind; offsets into the text."""

    kind: TextKind
    start: int
    end: int


def marked(text: str) -> Iterator[Marked]:
    """Yield the pieces of a lesson, or of a part of one, in their order; white space lies between them.

    In a part, the lines above the first block are read as the lines of the block that they fit into. Takes time
    in proportion to the length of the text, whatever is in it.
    """
    lines = list(joined(split(Source("<text>", text))))
    block = _block_of_part(lines)
    for line in lines:
        pieces: Iterable[Marked] = ()
        word = line.word.rstrip(":")
        if len(line.statement) > LIMITS.line:
            pieces = [Marked(TextKind.FAULT, line.start, line.start + len(line.statement))]
        elif not line.statement:
            pass
        elif not line.indented and word in OPENERS:
            block = word
            pieces = _opening(line, word)
        elif line.indented or block in _PARTS:
            pieces = _inner(line, block.removeprefix(_PART))
        else:
            pieces = [Marked(TextKind.FAULT, line.start, line.start + len(line.word))]
        yield from _with_comments(line, pieces)


def _block_of_part(lines: Iterable[Line]) -> str:
    """Return the block that the lines above the first opening line fit into, "" if there are none."""
    first: list[Line] = []
    for line in lines:
        if not line.indented and line.word.rstrip(":") in OPENERS:
            break
        if line.statement and len(line.statement) <= LIMITS.line:
            first.append(line)
    if not first:
        return ""
    unfit = {part: sum(_unfit(line, part.removeprefix(_PART)) for line in first) for part in _PARTS}
    return min(_PARTS, key=unfit.__getitem__)


def _unfit(line: Line, block: str) -> int:
    """Return how many characters of a line do not fit into a block; prose always does, but says nothing."""
    if block == "step" and line.word != _SHOW:
        return len(line.statement)
    return sum(
        one.end - one.start
        for one in _inner(line, block)
        if one.kind in (TextKind.FAULT, TextKind.PROSE)
    )


def _opening(line: Line, word: str) -> Iterator[Marked]:
    """Yield the pieces of a line that opens a block."""
    yield Marked(TextKind.OPENER, line.start, line.start + len(word))
    rule = OPENING_RULES.get(word)
    if rule is not None:
        yield from list(_by_rule(line, rule))[1:]
        return
    rest = line.statement[len(word) :]
    blanks = len(rest) - len(rest.lstrip())
    if rest:
        start = line.start + len(word) + blanks
        yield Marked(TextKind.FAULT, start, line.start + len(line.statement))


def _inner(line: Line, block: str) -> Iterator[Marked]:
    """Yield the pieces of a line in a block; without one, the line has no place."""
    if line.word == "use" and '"' in line.statement:
        return _by_rule(line, "use_line")
    if not block or block == "use":
        return iter([Marked(TextKind.FAULT, line.start, line.start + len(line.statement))])
    if block == "step" and line.word != _SHOW:
        return iter([Marked(TextKind.PROSE, line.start, line.start + len(line.statement))])
    return _by_rule(line, LINE_RULES[block])


def _by_rule(line: Line, rule: str) -> Iterator[Marked]:
    """Yield the pieces of a statement that a rule of the grammar reads."""
    naming = rule in DEFINING
    for one in scanned(line.statement, rule):
        kind = kind_of(one.terminal)
        if naming and kind is TextKind.NAME:
            kind, naming = TextKind.DEFINED, False
        yield from _within(line, kind, one.start, one.end)


def _within(line: Line, kind: TextKind, start: int, end: int) -> Iterator[Marked]:
    """Yield a piece, or what it is made of: a pluck and its techniques, a text and its escapes."""
    at, text = line.start, line.statement
    if kind is TextKind.PLUCK and (found := _TECHNIQUES.search(text, start, end)):
        yield Marked(kind, at + start, at + found.start())
        yield Marked(TextKind.TECHNIQUE, at + found.start(), at + end)
        return
    if kind is TextKind.TEXT:
        for escape in _ESCAPED.finditer(text, start, end):
            yield Marked(kind, at + start, at + escape.start())
            yield Marked(TextKind.ESCAPE, at + escape.start(), at + escape.end())
            start = escape.end()
    if end > start:
        yield Marked(kind, at + start, at + end)


def _with_comments(line: Line, pieces: Iterable[Marked]) -> Iterator[Marked]:
    """Yield the pieces of a statement, with the comments that stand in it and behind it in their places."""
    comments = [one for one in (*line.earlier, line) if one.comment]
    for piece in pieces:
        start = piece.start
        while comments and comments[0].comment_start < piece.end:
            comment = comments.pop(0)
            if comment.comment_start > start:  # The piece goes on behind the line of the comment.
                yield Marked(piece.kind, start, comment.comment_start)
            yield from _comment(comment)
            start = max(start, comment.comment_start + len(comment.comment))
        if piece.end > start:
            yield Marked(piece.kind, start, piece.end)
    for one in comments:
        yield from _comment(one)


def _comment(line: Line) -> Iterator[Marked]:
    start, end = line.comment_start, line.comment_start + len(line.comment)
    found = _ALLOWING.match(line.comment)
    if found is not None:
        allow = start + line.comment.lower().index("allow")
        yield Marked(TextKind.COMMENT, start, allow)
        yield Marked(TextKind.ALLOWING, allow, start + found.end())
        start += found.end()
    if end > start:
        yield Marked(TextKind.COMMENT, start, end)
