"""The form: sections in the order they are played, and what is different each time."""

from __future__ import annotations

from attrs import field

from fretloom.notation.model.limits import (
    BarNumber,
    Comment,
    Opening,
    SmallName,
    Times,
    WrittenTempo,
)
from fretloom.notation.model.margin import BARE, Margin, Unread
from fretloom.notation.model.section import Bar
from fretloom.shapes import shaped
from fretloom.source import Span
from fretloom.values import frozen

LAST = -1


def _wrong_place(but: ChangeBars | DropBars) -> str:
    """Say why no `but` line can name these bars."""
    to_the_end = but.last == LAST
    if but.first == LAST and not to_the_end:
        return "last: what begins with the last bar ends with it, so last is -1"
    if not to_the_end and but.last < but.first:
        return f"last: bars {but.first} to {but.last} run backwards"
    if isinstance(but, DropBars):
        return ""
    if but.open_end != (to_the_end and but.first != LAST):
        return "open_end: true if last is -1 and first is not, else false"
    return "" if but.bars else "bars: there has to be a bar"


@shaped(also=_wrong_place)
@frozen(kw_only=True)
class ChangeBars:
    """`but bar 3: ...`, `but bars 5-6: ...`, `but from bar 9: ...`, `but last bar: ...`.

    `first` and `last` are 1-based bars of the section as written, `LAST` (-1) its last; they and
    the bars between them are replaced by `bars`. `open_end` is true for "from bar".
    """

    first: BarNumber
    last: BarNumber
    bars: tuple[Bar, ...]
    open_end: bool = False
    margin: Margin = BARE
    place_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped(also=_wrong_place)
@frozen(kw_only=True)
class DropBars:
    """`but without bars 1-2`."""

    first: BarNumber
    last: BarNumber
    margin: Margin = BARE
    place_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped()
@frozen(kw_only=True)
class ChangePattern:
    """`but using filled`: instead of the section's own pattern."""

    using: SmallName
    margin: Margin = BARE
    using_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped()
@frozen(kw_only=True)
class ChangeTempo:
    """`but tempo 72`."""

    tempo: WrittenTempo
    margin: Margin = BARE
    span: Span | None = field(default=None, eq=False, repr=False)


But = ChangeBars | DropBars | ChangePattern | ChangeTempo | Unread


@shaped()
@frozen(kw_only=True)
class FormEntry:
    """A section, played `times` times, and what is different about it here."""

    section: SmallName
    times: Times = 1
    buts: tuple[But, ...] = ()
    margin: Margin = BARE
    section_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped()
@frozen(kw_only=True)
class Form:
    """The `form` block; `opening` as in `Heading`."""

    entries: tuple[FormEntry | Unread, ...] = ()
    tail: tuple[Comment, ...] = ()
    margin: Margin = BARE
    opening: Opening = ""
    span: Span | None = field(default=None, eq=False, repr=False)
