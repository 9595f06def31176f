"""The head of a lesson: who, what instrument, what key, how fast."""

from __future__ import annotations

from attrs import field

from fretloom.notation.model.margin import BARE, Margin, Unread
from fretloom.source import Span
from fretloom.values import frozen


@frozen(kw_only=True)
class Setting:
    """One line of the heading.

    `name` is the first word of the line (`plays` for "plays in", `based` for "based on"), and says
    which type `value` has: `fields/table.py` of the syntax has a row for each. A swing is a pair
    such as (2, 1), lengths are Fractions in millimetres, `based` is a path as written.
    """

    name: str
    value: object
    margin: Margin = BARE
    value_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class Heading:
    """The `lesson` block."""

    title: str
    settings: tuple[Setting | Unread, ...] = ()
    tail: tuple[str, ...] = ()
    margin: Margin = BARE
    title_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)

    def setting(self, name: str) -> Setting | None:
        """Return the first line of the heading that sets a field, if there is one."""
        for line in self.settings:
            if isinstance(line, Setting) and line.name == name:
                return line
        return None
