"""The form: sections in the order they are played, and what is different each time."""

from __future__ import annotations

from attrs import field

from fretloom.notation.model.margin import BARE, Margin, Unread
from fretloom.notation.model.section import Bar
from fretloom.source import Span
from fretloom.trade.music.tempo import Tempo
from fretloom.values import frozen

LAST = -1


@frozen(kw_only=True)
class ChangeBars:
    """`but bar 3: ...`, `but bars 5-6: ...`, `but from bar 9: ...`, `but last bar: ...`.

    `first` and `last` are 1-based bars of the section as written, `LAST` (-1) its last; they and
    the bars between them are replaced by `bars`. `open_end` is true for "from bar".
    """

    first: int
    last: int
    bars: tuple[Bar, ...]
    open_end: bool = False
    margin: Margin = BARE
    place_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class DropBars:
    """`but without bars 1-2`."""

    first: int
    last: int
    margin: Margin = BARE
    place_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class ChangePattern:
    """`but using filled`: instead of the section's own pattern."""

    using: str
    margin: Margin = BARE
    using_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class ChangeTempo:
    """`but tempo 72`."""

    tempo: Tempo
    margin: Margin = BARE
    span: Span | None = field(default=None, eq=False, repr=False)


But = ChangeBars | DropBars | ChangePattern | ChangeTempo | Unread


@frozen(kw_only=True)
class FormEntry:
    """A section, played `times` times, and what is different about it here."""

    section: str
    times: int = 1
    buts: tuple[But, ...] = ()
    margin: Margin = BARE
    section_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class Form:
    """The `form` block."""

    entries: tuple[FormEntry | Unread, ...] = ()
    tail: tuple[str, ...] = ()
    margin: Margin = BARE
    span: Span | None = field(default=None, eq=False, repr=False)
