"""The outline of a lesson that is being typed, and what of it folds: by its lines, so that faults hide nothing."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import islice
from typing import Literal

from fretloom.limits import LIMITS
from fretloom.notation.model.words import OPENERS
from fretloom.notation.syntax.lines import Line, split
from fretloom.notation.syntax.reader import beyond_limits
from fretloom.notation.syntax.signs import QUOTED
from fretloom.source import Source, Span
from fretloom.values import frozen

EntryKind = Literal[
    "lesson", "file", "block", "voicing", "pattern", "section", "form", "entry", "step"
]
_QUOTED = re.compile(QUOTED)
_NAME = re.compile(r"[^\s|:{}\"%,]+")
#: The blocks whose lines each begin with a name, and what that is the name of.
_NAMED: dict[str, EntryKind] = {"voicings": "voicing", "patterns": "pattern", "form": "entry"}
_KINDS: dict[str, EntryKind] = {
    "lesson": "lesson",
    "use": "file",
    "section": "section",
    "form": "form",
    "step": "step",
}
_MOST_TITLE = 120


@frozen
class OutlineEntry:
    """A block of a lesson, or a line of one that names something.

    Args:
        name: what it is called. kind: what it is. detail: the rest of its line.
        span: all of it; name_span: where its name stands, inside `span`.
        entries: those inside it.
    """

    name: str
    kind: EntryKind
    detail: str
    span: Span
    name_span: Span
    entries: tuple[OutlineEntry, ...] = ()


@frozen
class Fold:
    """Lines that can be folded away behind the first of them, 1-based, both counted in."""

    first: int
    last: int
    comment: bool = False


def outline(source: Source) -> tuple[OutlineEntry, ...]:
    """Return the blocks of a text in their order, with the names that they give.

    Of a text that is too large to be read there are none; of one with more than `LIMITS.outlined`, the first.
    """
    if beyond_limits(source):
        return ()
    found: list[OutlineEntry] = []
    left = LIMITS.outlined
    for block in _blocks(split(source)):
        word = _opener(block[0])
        if word in OPENERS and word != "notation":
            found.append(_entry(block, left - 1))
            left -= 1 + len(found[-1].entries)
        if left <= 0:
            break
    return tuple(found)


def folds(source: Source) -> tuple[Fold, ...]:
    """Return what can be folded: blocks, repeats in sections, patterns of several lines, comments of several lines.

    Of a text that is too large to be read nothing can; of more than `LIMITS.outlined`, the first.
    """
    if beyond_limits(source):
        return ()
    found: list[Fold] = []
    lines = list(split(source))
    for block in _blocks(lines):
        last = _last(block).number
        if last > block[0].number:
            found.append(Fold(block[0].number, last))
        if _opener(block[0]) == "section":
            found += _repeats(block)
        if _opener(block[0]) == "patterns":
            found += _continued(block)
    found += _comments(lines)
    return tuple(sorted(found, key=lambda one: (one.first, -one.last)))[: LIMITS.outlined]


def _blocks(lines: Iterable[Line]) -> Iterator[list[Line]]:
    """Yield the lines of each block, the one that opens it first; empty ones and comments are among them."""
    block: list[Line] = []
    for line in lines:
        if line.statement and not line.indented:
            if block:
                yield block
            block = [line]
        elif block:
            block.append(line)
    if block:
        yield block


def _entry(block: Sequence[Line], most: int) -> OutlineEntry:
    opening, word = block[0], _opener(block[0])
    last = _last(block)
    kind = _KINDS.get(word, "block")
    entries = tuple(islice(_named(block, _NAMED[word]), most)) if word in _NAMED else ()
    start, end, detail = _title(opening, word)
    name = opening.statement[start:end].strip('"') or word
    span = opening.span().to(last.span())
    return OutlineEntry(name[:_MOST_TITLE], kind, detail, span, opening.span(start, end), entries)


def _title(opening: Line, word: str) -> tuple[int, int, str]:
    """Return where the name of a block stands in the line that opens it, and what else is said there."""
    text = opening.statement
    if word in ("lesson", "use", "step") and (found := _QUOTED.search(text)):
        return found.start(), found.end(), word if word == "use" else ""
    if word == "section" and (found := _NAME.search(text, len(word))):
        return found.start(), found.end(), text[found.end() :].strip()
    return 0, len(word), ""


def _named(block: Sequence[Line], kind: EntryKind) -> Iterator[OutlineEntry]:
    """Yield the lines of a block that begin with a name."""
    for line in block[1:]:
        found = _NAME.match(line.statement)
        if found is not None and found[0] != "but":
            detail = line.statement[found.end() :].strip()[:_MOST_TITLE]
            at = line.span(0, found.end())
            yield OutlineEntry(found[0][:_MOST_TITLE], kind, detail, line.span(), at)


def _repeats(block: Sequence[Line]) -> Iterator[Fold]:
    begun: list[int] = []
    for line in block:
        if line.word == "repeat":
            begun.append(line.number)
        elif line.statement == "end" and begun:
            yield Fold(begun.pop(), line.number)


def _continued(block: Sequence[Line]) -> Iterator[Fold]:
    """Yield patterns that go on for several lines."""
    first = last = 0
    for line in block[1:]:
        if line.statement.startswith("|") and first:
            last = line.number
        elif line.statement:
            if last > first:
                yield Fold(first, last)
            first = last = line.number
    if last > first:
        yield Fold(first, last)


def _comments(lines: Sequence[Line]) -> Iterator[Fold]:
    """Yield comments that stand on several lines, one below the other."""
    first = 0
    for line in lines:
        alone = bool(line.comment) and not line.statement
        if alone and not first:
            first = line.number
        elif not alone and first:
            if line.number - first > 1:
                yield Fold(first, line.number - 1, comment=True)
            first = 0
    if first and lines[-1].number > first:
        yield Fold(first, lines[-1].number, comment=True)


def _opener(line: Line) -> str:
    return line.word.rstrip(":")


def _last(block: Sequence[Line]) -> Line:
    """Return the last line of a block that belongs to it; what is not indented below it is about the next one."""
    own = [line for line in block if line.statement or (line.comment and line.indented)]
    return own[-1]
