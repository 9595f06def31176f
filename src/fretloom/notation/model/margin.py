"""What is around a line of the text and does not change the music."""

from __future__ import annotations

from attrs import field

from fretloom.values import frozen


@frozen
class Margin:
    """Comments and the empty line that belong to one line of a lesson.

    Comments are kept with their `#` and without surrounding white space.

    Args:
        above: comment lines directly above the line.
        beside: the comment at the end of the line, or "".
        gap: whether there is an empty line before the line and its comments (not compared).
    """

    above: tuple[str, ...] = ()
    beside: str = ""
    gap: bool = field(default=False, eq=False)


BARE = Margin()


@frozen
class Unread:
    """A line that could not be understood, kept as it is so that nothing is lost.

    `name` is what the line would have defined, so that its users are not blamed as well.
    """

    text: str
    name: str = ""
    margin: Margin = BARE
