"""The lexer by which Pygments colours lessons; Pygments finds it by an entry point, and nothing else imports it."""

from __future__ import annotations

from collections.abc import Iterator

from pygments.lexer import Lexer
from pygments.token import (
    Comment,
    Generic,
    Keyword,
    Literal,
    Name,
    Number,
    Operator,
    Punctuation,
    String,
    Text,
    Whitespace,
    _TokenType,
)

from fretloom import api
from fretloom.api import TextKind

#: A fault is no `Error`: who shows a lesson with a slip on purpose, as a page of a rule does, means to.
TOKENS: dict[TextKind, _TokenType] = {
    TextKind.OPENER: Keyword.Declaration,
    TextKind.WORD: Keyword,
    TextKind.DEFINED: Name.Function,
    TextKind.NAME: Name,
    TextKind.TEXT: String.Double,
    TextKind.ESCAPE: String.Escape,
    TextKind.NUMBER: Number,
    TextKind.VALUE: Name.Constant,
    TextKind.FRETS: Literal.Number.Integer,
    TextKind.FRETTING: Name.Attribute,
    TextKind.PLUCK: Name.Builtin,
    TextKind.TECHNIQUE: Name.Decorator,
    TextKind.MARK: Operator,
    TextKind.SIGN: Punctuation,
    TextKind.PROSE: Text,
    TextKind.COMMENT: Comment.Single,
    TextKind.ALLOWING: Comment.Special,
    TextKind.FAULT: Generic.Error,
}


class LessonLexer(Lexer):  # type: ignore[misc]  # Pygments has no types.
    """Lessons of fretloom, or parts of them: by the grammar, as the reader understands each word."""

    name = "fretloom lesson"
    aliases = ("fretloom", "lesson")
    filenames = ("*.lesson",)
    mimetypes = ("text/x-fretloom-lesson",)
    url = ""

    def get_tokens_unprocessed(self, text: str) -> Iterator[tuple[int, _TokenType, str]]:
        """Yield the pieces of a text with where they begin; all of the text is in one of them."""
        at = 0
        for piece in api.marked(text):
            yield from _between(text, at, piece.start)
            yield piece.start, TOKENS[piece.kind], text[piece.start : piece.end]
            at = piece.end
        yield from _between(text, at, len(text))


def _between(text: str, start: int, end: int) -> Iterator[tuple[int, _TokenType, str]]:
    between = text[start:end]
    if between:
        yield start, Text if between.strip() else Whitespace, between
