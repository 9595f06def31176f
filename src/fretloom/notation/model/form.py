"""The form: sections in the order they are played, and what is different each time."""

from __future__ import annotations

from typing import Literal

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
from fretloom.trade.music.loudness import Dynamic
from fretloom.values import frozen

LAST = -1


def _wrong_place(but: ChangeBars | DropBars | KeepBars) -> str:
    """Say why no `but` line can name these bars."""
    problem = _wrong_run(but.first, but.last)
    if problem or not isinstance(but, ChangeBars):
        return problem
    if but.open_end != (but.last == LAST and but.first > 0):
        return "open_end: true if last is -1 and first is from 1, else false"
    return "" if but.bars else "bars: there has to be a bar"


def _wrong_run(first: int, last: int) -> str:
    if last < LAST:
        return "last: counted from the end, only the last bar can be the last one: -1"
    if first < 0 and last != LAST:
        return "last: what is counted from the end ends with the last bar, so last is -1"
    if last != LAST and last < first:
        return f"last: bars {first} to {last} run backwards"
    return ""


def _wrong_bars(but: ChangePattern | ChangeTempo | ChangeDynamic | TempoRun | DynamicRun) -> str:
    """Say why no `but` line can be for these bars; both ends None are the whole playing."""
    if but.first is None or but.last is None:
        return "" if but.first is but.last else "last: a run of bars has a first and a last one"
    return _wrong_run(but.first, but.last)


@shaped(also=_wrong_place)
@frozen(kw_only=True)
class ChangeBars:
    """`but bar 3: ...`, `but bars 5-6: ...`, `but from bar 9: ...`, `but last 2 bars: ...`.

    `first` and `last` are 1-based bars of the section as written, `LAST` (-1) its last and -2 the
    one before it; they and the bars between them are replaced by `bars`. `open_end` is true for
    "from bar".
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


@shaped(also=_wrong_place)
@frozen(kw_only=True)
class KeepBars:
    """`but only bars 5-8`: all other bars are left out."""

    first: BarNumber
    last: BarNumber
    margin: Margin = BARE
    place_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped()
@frozen(kw_only=True)
class WithoutRepeats:
    """`but without repeats`: each repeat once through, with its last ending."""

    margin: Margin = BARE
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped()
@frozen(kw_only=True)
class ChangeWords:
    """`but words 1`: the words of another time, by its number."""

    verse: Times
    margin: Margin = BARE
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped(also=_wrong_bars)
@frozen(kw_only=True)
class ChangePattern:
    """`but using filled`, `but bars 5-8 using filled`: instead of the section's own pattern."""

    using: SmallName
    first: BarNumber | None = None
    last: BarNumber | None = None
    margin: Margin = BARE
    place_span: Span | None = field(default=None, eq=False, repr=False)
    using_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped(also=_wrong_bars)
@frozen(kw_only=True)
class ChangeTempo:
    """`but tempo 72`, `but bars 5-8 tempo 72`."""

    tempo: WrittenTempo
    first: BarNumber | None = None
    last: BarNumber | None = None
    margin: Margin = BARE
    place_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped(also=_wrong_bars)
@frozen(kw_only=True)
class ChangeDynamic:
    """`but dynamic p`, `but bars 5-8 dynamic p`: this playing only."""

    dynamic: Dynamic
    first: BarNumber | None = None
    last: BarNumber | None = None
    margin: Margin = BARE
    place_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped(also=_wrong_bars)
@frozen(kw_only=True)
class TempoRun:
    """`but ritardando to 60 over last 2 bars`: evenly over those bars; the rest of the playing stays so."""

    kind: Literal["ritardando", "accelerando"]
    tempo: WrittenTempo
    first: BarNumber
    last: BarNumber
    margin: Margin = BARE
    place_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped(also=_wrong_bars)
@frozen(kw_only=True)
class DynamicRun:
    """`but crescendo to f over bars 5-8`: evenly over those bars; the rest of the playing stays so."""

    kind: Literal["crescendo", "diminuendo"]
    dynamic: Dynamic
    first: BarNumber
    last: BarNumber
    margin: Margin = BARE
    place_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)


But = (
    ChangeBars
    | DropBars
    | KeepBars
    | WithoutRepeats
    | ChangePattern
    | ChangeTempo
    | TempoRun
    | ChangeDynamic
    | DynamicRun
    | ChangeWords
    | Unread
)


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
