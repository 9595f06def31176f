"""What parsing a line gives: tokens and nodes, each with its place in the statement."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from fretloom.notation.syntax.parsing.plain_beats import PlainBeats
from fretloom.values import frozen


@frozen
class Token:
    """A word or sign: `kind` is a terminal of the grammar, `start` and `end` are offsets."""

    kind: str
    text: str
    start: int
    end: int


@frozen
class Tree:
    """What a rule of the grammar has read: `name` is the rule or its alias.

    Keywords and signs are left out, since the rule says that they were there.
    """

    name: str
    children: tuple[Token | Tree | PlainBeats, ...]

    def token(self, place: int) -> Token:
        """Return a child that is a token by the grammar."""
        child = self.children[place]
        assert isinstance(child, Token)
        return child

    def node(self, place: int) -> Tree:
        """Return a child that is a node by the grammar."""
        child = self.children[place]
        assert isinstance(child, Tree)
        return child

    def nodes(self) -> list[Tree]:
        """Return the children that are nodes."""
        return [child for child in self.children if isinstance(child, Tree)]

    @property
    def start(self) -> int | None:
        """The offset of the first token inside, None without any."""
        # Each is asked once: asking twice would double the work with every bracket around it.
        return next((at for one in self.children if (at := one.start) is not None), None)

    @property
    def end(self) -> int | None:
        """The offset after the last token inside, None without any."""
        return next((at for one in reversed(self.children) if (at := one.end) is not None), None)

    def tokens(self) -> Iterator[Token]:
        """Yield all tokens inside, in order (those of plain beats are not kept)."""
        for child in self.children:
            if isinstance(child, Token):
                yield child
            elif isinstance(child, Tree):
                yield from child.tokens()


@frozen
class Unexpected:
    """Where a line stops making sense: `start`, and the terminals that could stand there.

    `start` is the length of the text where the line stops too soon.
    """

    start: int
    wanted: frozenset[str]


def text_of(token: Token) -> str:
    """Return the text inside a token's quotes."""
    inside = token.text[1:-1]
    if "\\" not in inside:
        return inside
    return inside.replace('\\"', '"').replace("\\\\", "\\")


def number(token: Token) -> Fraction:
    """Read 3, 1.5 or 3/2 exactly; 0 for a share of nothing (`1/0`)."""
    text = token.text
    if text.rpartition("/")[2].strip("0") == "" and "/" in text:
        return Fraction(0)
    return Fraction(text)


def whole(token: Token) -> int | None:
    """Read a whole number; None if the token is a fraction."""
    return int(token.text) if token.text.isdigit() else None
