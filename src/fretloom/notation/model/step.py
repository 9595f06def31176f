"""Steps: what the student reads and sees, in order."""

from __future__ import annotations

from typing import Literal

from attrs import field

from fretloom.notation.model.limits import (
    Comment,
    MaybeName,
    Opening,
    ProseText,
    Quoted,
    Speed,
    Times,
)
from fretloom.notation.model.margin import BARE, Margin, Unread
from fretloom.shapes import shaped
from fretloom.source import Span
from fretloom.values import frozen

Shown = Literal["voicing", "change", "pattern", "section", "bars", "form"]


def _wrong_show(show: Show) -> str:
    """Say why no line can show this."""
    if bool(show.name) is (show.kind == "form"):
        return "name: what is shown has a name, but the form has none"
    if show.over and show.kind not in ("change", "pattern"):
        return "over: only a pattern is shown over a voicing, and only a change leads to one"
    if show.kind == "change" and not show.over:
        return "over: a change leads to a voicing"
    if show.kind != "bars":
        other = show.first is not None or show.last is not None
        return "first: only bars have a first and a last" if other else _wrong_speed(show)
    if show.first is None or show.last is None or show.last < show.first:
        return "last: bars run from a first one to a last one"
    return _wrong_speed(show)


def _wrong_speed(show: Show) -> str:
    if show.goal is None:
        return ""
    if show.start is None or show.goal < show.start:
        return "goal: a tempo to climb to comes after one to start from, which is slower"
    return ""


@shaped(also=_wrong_show)
@frozen(kw_only=True)
class Show:
    """A line beginning with `show`.

    `kind` says what is shown; `name` the voicing, pattern or section (the voicing left, for a
    change); `over` the voicing a pattern is shown on, or the one a change leads to; `first` and
    `last` the bars of a section. `start` is a tempo in quarter notes a minute, `goal` the one to climb to.
    """

    kind: Shown
    name: MaybeName = ""
    over: MaybeName = ""
    first: Times | None = None
    last: Times | None = None
    start: Speed | None = None
    goal: Speed | None = None
    margin: Margin = BARE
    name_span: Span | None = field(default=None, eq=False, repr=False)
    over_span: Span | None = field(default=None, eq=False, repr=False)
    place_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped()
@frozen(kw_only=True)
class Prose:
    """One line of text for the student."""

    text: ProseText
    margin: Margin = BARE
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped()
@frozen(kw_only=True)
class Step:
    """A `step` block: a title, prose, and what is shown; `opening` as in `Heading`."""

    title: Quoted
    lines: tuple[Prose | Show | Unread, ...] = ()
    tail: tuple[Comment, ...] = ()
    margin: Margin = BARE
    opening: Opening = ""
    span: Span | None = field(default=None, eq=False, repr=False)
