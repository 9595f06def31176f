"""What is around a line of the text and does not change the music."""

from __future__ import annotations

from attrs import field

from fretloom.notation.model.limits import Beside, Comment, UnreadText
from fretloom.shapes import shaped
from fretloom.values import frozen

#: A comment that allows findings, up to the names of their rules, in small letters or not.
ALLOWING = r"#+\s*allow\s+([a-z][a-z0-9-]*(?:\s*,\s*[a-z][a-z0-9-]*)*)"


@shaped()
@frozen
class Margin:
    """Comments and the empty line that belong to one line of a lesson.

    Comments are kept with their `#` and without surrounding white space.

    Args:
        above: comment lines directly above the line.
        beside: the comment at the end of the line, or "".
        gap: whether there is an empty line before the line and its comments (not compared).
    """

    above: tuple[Comment, ...] = ()
    beside: Beside = ""
    gap: bool = field(default=False, eq=False)


BARE = Margin()


@shaped()
@frozen
class Unread:
    """A line that could not be understood, kept as it is so that nothing is lost.

    Where the opening line of a block was not understood, the lines below it follow in `text`, each
    after a line break and two spaces; a line that is indented but belongs to no block has these two
    spaces as well. `name` is what the line would have defined, so that its users
    are not blamed as well.
    """

    text: UnreadText
    name: str = ""
    margin: Margin = BARE
