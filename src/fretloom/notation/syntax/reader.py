"""What every reader of a line needs: the parser, spans of its tokens, and a place for faults."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING

from attrs import evolve

from fretloom.diagnostics import Diagnostic, Edit
from fretloom.errors import SymbolError
from fretloom.notation.syntax.grammar import parser
from fretloom.notation.syntax.lines import Line
from fretloom.notation.syntax.slips import find_slip
from fretloom.notation.syntax.unexpected import say_unexpected
from fretloom.rule_facts import Severity
from fretloom.source import Source, Span

if TYPE_CHECKING:
    from lark import Token, Tree


class Reader:
    """Reads the lines of one source.

    `naming` is how the lesson names its notes; `strings` how many strings its tuning has, None
    where the file does not say (a file of voicings, or a lesson based on another).
    """

    def __init__(self, source: Source) -> None:
        self.source = source
        self.naming = "english"
        self.strings: int | None = None
        self.faults: list[Diagnostic] = []

    def fault(
        self,
        rule: str,
        span: Span,
        message: str,
        hint: str = "",
        edits: tuple[Edit, ...] = (),
        harmless: bool = False,
    ) -> None:
        """Note an error; `harmless` says that this one does not touch the music, though its rule can."""
        found = Diagnostic(
            rule=rule, severity=Severity.ERROR, message=message, span=span, hint=hint, edits=edits
        )
        self.faults.append(evolve(found, music_undefined=False) if harmless else found)

    def symbol_fault(self, rule: str, span: Span, error: SymbolError, hint: str = "") -> None:
        """Note that a word of the music is not understood, at the place where it goes wrong.

        `hint` is for errors that bring none of their own.
        """
        start = min(span.start + error.position, max(span.end - 1, span.start))
        place = Span(span.source, start, span.end)
        self.fault(rule, place, error.message, error.hint or hint)

    def tree(
        self, line: Line, start: str, begin: int = 0, end: int | None = None
    ) -> Tree[Token] | None:
        """Parse a line (or a piece of it) by a rule of the grammar; None after noting a fault.

        Token positions in the tree are offsets into the whole statement.
        """
        from lark import UnexpectedInput

        text = line.statement[begin:end]
        slip = find_slip(text, start)
        if slip is not None:
            span = line.span(begin + slip.start, begin + slip.end)
            self.fault(slip.rule, span, slip.message, slip.hint, slip.edits(span))
            return None
        try:
            # Blanks instead of what stands before keep the tokens' offsets true.
            return parser().parse(" " * begin + text, start=start)
        except UnexpectedInput as error:
            said = say_unexpected(error, " " * begin + text, start)
            self.fault(said.rule, line.span(said.start, said.end), said.message, said.hint)
            return None


def token_span(line: Line, token: Token) -> Span:
    """Return where a token stands."""
    return line.span(token.start_pos or 0, token.end_pos)


def tokens(tree: Tree[Token]) -> Iterator[Token]:
    """Yield all tokens below a tree, in order."""
    from lark import Tree as LarkTree

    for child in tree.children:
        if isinstance(child, LarkTree):
            yield from tokens(child)
        else:
            yield child


def tree_span(line: Line, tree: Tree[Token]) -> Span:
    """Return the span from a tree's first token to its last (its keywords have no tokens)."""
    found = list(tokens(tree))
    if not found:
        return line.span()
    return line.span(found[0].start_pos or 0, found[-1].end_pos)


def text_of(token: Token) -> str:
    """Return the text inside a token's quotes."""
    inside = str(token)[1:-1]
    if "\\" not in inside:
        return inside
    return inside.replace('\\"', '"').replace("\\\\", "\\")


def number(token: Token) -> Fraction:
    """Read 3, 1.5 or 3/2 exactly; 0 for a share of nothing (`1/0`)."""
    text = str(token)
    if text.rpartition("/")[2].strip("0") == "" and "/" in text:
        return Fraction(0)
    return Fraction(text)


def whole(token: Token) -> int | None:
    """Read a whole number; None if the token is a fraction."""
    return int(token) if str(token).isdigit() else None
