"""Steps: what the student reads and sees, in order."""

from __future__ import annotations

from fractions import Fraction

from attrs import field
from attrs.validators import in_

from fretloom.notation.model.margin import BARE, Margin, Unread
from fretloom.source import Span
from fretloom.values import frozen

SHOWN = ("voicing", "change", "pattern", "section", "bars", "form")


@frozen(kw_only=True)
class Show:
    """A line beginning with `show`.

    `kind` is one of `SHOWN`; `name` the voicing, pattern or section (the voicing left, for a
    change); `over` the voicing a pattern is shown on, or the one a change leads to; `first` and
    `last` the bars of a section. `start` is a tempo in quarter notes a minute, `goal` the one to climb to.
    """

    kind: str = field(validator=in_(SHOWN))
    name: str = ""
    over: str = ""
    first: int | None = None
    last: int | None = None
    start: Fraction | None = None
    goal: Fraction | None = None
    margin: Margin = BARE
    name_span: Span | None = field(default=None, eq=False, repr=False)
    over_span: Span | None = field(default=None, eq=False, repr=False)
    place_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class Prose:
    """One line of text for the student."""

    text: str
    margin: Margin = BARE
    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class Step:
    """A `step` block: a title, prose, and what is shown."""

    title: str
    lines: tuple[Prose | Show | Unread, ...] = ()
    tail: tuple[str, ...] = ()
    margin: Margin = BARE
    span: Span | None = field(default=None, eq=False, repr=False)
