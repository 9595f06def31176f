"""Cuts a text into lines: indentation, statement, comment. The only place that knows comments."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator

from fretloom.notation.syntax.signs import QUOTED, is_closed
from fretloom.source import Source, Span
from fretloom.values import evolve, frozen

# A comment: # first in the line, or after white space and before white space or the line's end.
_COMMENT = re.compile(r"(?:^|(?<=[ \t]))#(?=[ \t]|$)")
_TEXT_OR_COMMENT = re.compile(rf"{QUOTED}|{_COMMENT.pattern}")
_QUOTED = re.compile(QUOTED)
_ODD_SPACE = re.compile(r"[\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000]")
_SPACE_AT_END = re.compile(r"[ \t\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000]+\Z")
_WORD = re.compile(r"[^ \t]*")
_NAMES = re.compile(r"[^\W\d_][^\s|:{}\"%,]*")
_PLAIN = re.compile(r"[\x20-\x7e\t]*")


@frozen
class Line:
    """One line of text.

    `statement` is what is left without indentation and comment, with every kind of space outside
    quotes made a plain one (so that offsets stay true); `start` is the offset of its first
    character. `comment` keeps its `#`. `number` is 1-based. `earlier` are the lines whose comments
    stand inside a statement that goes on for several lines. `written` is how long the statement is in
    the text, if that says it in an older edition; then its parts have no places of their own.
    """

    source: Source
    number: int
    start: int
    indented: bool
    statement: str
    comment: str
    comment_start: int
    earlier: tuple[Line, ...] = ()
    written: int | None = None

    @property
    def word(self) -> str:
        """The first word of the statement."""
        return _WORD.match(self.statement)[0]  # type: ignore[index]

    @property
    def blank(self) -> bool:
        """Whether there is neither statement nor comment."""
        return not self.statement and not self.comment

    def span(self, start: int = 0, end: int | None = None) -> Span:
        """Return a span by offsets into the statement; without `end`, up to the statement's end."""
        stop = len(self.statement) if end is None else end
        if self.written is not None:
            start, stop = 0, self.written
        last = len(self.source.text)
        return Span(self.source, min(self.start + start, last), min(self.start + stop, last))


def split(source: Source) -> Iterator[Line]:
    """Yield the lines of a text, the empty ones too."""
    starts = source.line_starts()
    for number, start in enumerate(starts, 1):
        written = text = source.line_text(number)
        if not _PLAIN.fullmatch(text):
            text = _ODD_SPACE.sub(" ", text)
        body = text.lstrip(" \t")
        indent = len(text) - len(body)
        at = comment_at(body)
        comment = ""
        if at is not None:
            comment = _SPACE_AT_END.sub("", written[indent + at :])
        statement = body[:at].rstrip(" \t")
        if text != written:
            statement = _with_quotes_of(written[indent:], statement)
        comment_start = start + indent + (at or 0)
        yield Line(source, number, start + indent, indent > 0, statement, comment, comment_start)


class Words:
    """The words and names in the statements of some lines."""

    def __init__(self, lines: Iterable[Line], less: Words | None = None) -> None:
        found = (word for line in lines for word in _NAMES.findall(line.statement))
        self._counts = Counter(found)
        self._all = less

    def without(self, line: Line) -> Words:
        """Return the words of the other lines."""
        return Words([line], self)

    def __contains__(self, word: object) -> bool:
        own = self._counts[word]
        return self._all._counts[word] > own if self._all is not None else own > 0


def _with_quotes_of(written: str, statement: str) -> str:
    """Return a statement with what is in quotes as it was written, odd spaces and all."""

    def as_written(found: re.Match[str]) -> str:
        return written[found.start() : found.end()] if is_closed(found) else found[0]

    return _QUOTED.sub(as_written, statement)


def comment_at(body: str) -> int | None:
    """Return where the comment of a text without indentation starts, passing over texts in quotes."""
    if "#" not in body:
        return None
    if body.startswith("#"):
        return 0
    for found in _TEXT_OR_COMMENT.finditer(body):
        if found[0] == "#":
            return found.start()
        if not is_closed(found):
            # What follows a quotation mark that is left open is not in quotes.
            comment = _COMMENT.search(body, found.start())
            return comment.start() if comment else None
    return None


def joined(lines: Iterator[Line]) -> Iterator[Line]:
    """Join a line of a pattern that begins with a bar line to the line above it.

    Blanks fill the gap, so that offsets stay true. The comments on the way are kept in `earlier`.
    """
    in_patterns = False
    held: list[Line] = []
    between: list[Line] = []
    for line in lines:
        if line.statement and not line.indented:
            in_patterns = line.word.rstrip(":") == "patterns"
        if held and in_patterns and line.statement.startswith("|"):
            held += [*between, line]
            between = []
        elif held and in_patterns and not line.statement:
            between.append(line)
        else:
            yield from _whole(held)
            yield from between
            held, between = [line], []
    yield from _whole(held)
    yield from between


def _whole(parts: list[Line]) -> Iterator[Line]:
    """Yield the one line that is written on several, if there is any."""
    if len(parts) < 2:
        yield from parts
        return
    first, last = parts[0], parts[-1]
    text: list[str] = []
    end = first.start
    for part in parts:
        if part.statement:
            text += [" " * (part.start - end), part.statement]
            end = part.start + len(part.statement)
    yield evolve(
        first,
        statement="".join(text),
        comment=last.comment,
        comment_start=last.comment_start,
        earlier=tuple(one for one in parts[:-1] if one.comment),
    )
