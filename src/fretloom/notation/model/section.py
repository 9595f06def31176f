"""Sections as written: lines of bars, and the signs that change how they are played."""

from __future__ import annotations

from typing import Literal

from attrs import field

from fretloom.notation.model.details.expression import (
    BackToTempo,
    DynamicChange,
    DynamicRamp,
    FreeTime,
    TempoChange,
    TempoRamp,
)
from fretloom.notation.model.details.sung import WordsLine
from fretloom.notation.model.limits import (
    Amount,
    Comment,
    MaybeSmallName,
    Opening,
    PlayedName,
    Quoted,
    Repeats,
    Share,
    SmallName,
    Times,
    UnreadBarText,
    WrittenCount,
    WrittenMeter,
)
from fretloom.notation.model.margin import BARE, Margin, Unread
from fretloom.notation.model.pattern import Brush, PatternBar, Pluck, Slap
from fretloom.shapes import shaped
from fretloom.source import Span
from fretloom.trade.guitar.plucking import PickingFinger
from fretloom.values import frozen

BarKind = Literal["voicings", "same", "rest", "written", "unread"]


def _wrong_bar(bar: Bar) -> str:
    """Say why these fields cannot stand in one bar."""
    if bar.text and bar.kind != "unread":
        return 'text: only a bar of the kind "unread" has a text'
    if bar.kind == "unread":
        return ""
    if bar.kind == "voicings" and not bar.parts:
        return 'parts: a bar names a voicing, or has another kind, such as "rest"'
    if bar.parts and bar.kind != "voicings":
        return f'parts: a bar of the kind "{bar.kind}" names no voicings'
    if bar.using and bar.beats is not None:
        return "using: a bar has a pattern by name or written out, not both"
    return ""


def _wrong_line(line: BarLine) -> str:
    """Say why these bars cannot stand in one line."""
    if not line.bars:
        return "bars: there has to be a bar"
    blank = [bar.kind == "unread" and not bar.text for bar in (line.bars[0], line.bars[-1])]
    return "bars: the first and the last one are not empty" if any(blank) else ""


def _wrong_length(bar: ShortBar) -> str:
    said = [one for one in (bar.beats, bar.start, bar.through, bar.before) if one is not None]
    if len(said) != 1:
        return "beats: a short bar has a number of beats or a count, one of the two"
    if bar.start is not None and bar.kind == "last":
        return "start: only a pickup can begin at a count"
    if bar.through is not None and bar.kind == "pickup":
        return "through: only a last bar can end with a count"
    if bar.before is not None and bar.kind == "pickup":
        return "before: only a last bar can end before a count"
    return ""


def _wrong_ending(ending: EndingStart) -> str:
    if not ending.passes:
        return "passes: an ending is for some passes"
    return "" if ending.bars else "bars: there has to be a bar"


@shaped()
@frozen(kw_only=True)
class Part:
    """A voicing in a bar, with its share in beats (`E:3`) or None for an equal share."""

    voicing: PlayedName
    beats: Share | None = None
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped()
@frozen(kw_only=True)
class With:
    """`with a@3 on 3`, `with slap on 2`: one more pluck or slap, on that count."""

    pluck: Pluck | Brush | Slap
    count: WrittenCount
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped()
@frozen(kw_only=True)
class Without:
    """`without p on 4`: what that finger plucks on that count is left out."""

    finger: PickingFinger
    count: WrittenCount
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped(also=_wrong_bar)
@frozen(kw_only=True)
class Bar:
    """One written bar, played `times` times in a row.

    `kind` is "voicings" (see `parts`), "same" (`%`, the bar before), "rest", "written" (the word
    `same` in a `but`: the bar as the section has it), or "unread": the bar could not be understood
    (which has been reported), so it is silent and not reported again; `text` is what stands there.
    `using` names a pattern, `beats` is one written out in `{ }`; without either the section's
    pattern is used. `early` is a count of the bar *before* at which the hand is already on the
    first voicing; from `release` on the fretting hand has let go; at `stop` all strings are damped;
    at `fermata` the beat waits.
    """

    kind: BarKind = "voicings"
    parts: tuple[Part, ...] = ()
    times: Times = 1
    cue: Quoted = ""
    using: MaybeSmallName = ""
    beats: PatternBar | None = None
    patches: tuple[With | Without, ...] = ()
    early: WrittenCount | None = None
    release: WrittenCount | None = None
    stop: WrittenCount | None = None
    fermata: WrittenCount | None = None
    text: UnreadBarText = ""
    using_span: Span | None = field(default=None, eq=False, repr=False)
    early_span: Span | None = field(default=None, eq=False, repr=False)
    release_span: Span | None = field(default=None, eq=False, repr=False)
    stop_span: Span | None = field(default=None, eq=False, repr=False)
    fermata_span: Span | None = field(default=None, eq=False, repr=False)
    times_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped(also=_wrong_line)
@frozen(kw_only=True)
class BarLine:
    """A line of bars."""

    bars: tuple[Bar, ...]
    margin: Margin = BARE
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped(also=_wrong_length)
@frozen(kw_only=True)
class ShortBar:
    """`pickup 1: ...` an incomplete first bar, or `last 3: ...` an incomplete last one.

    The length is `beats`; or, for `pickup from 4&:`, what is left of the bar from `start` on; or, for
    `last to 3&:`, all up to the end of the count `through`; or, for `last before 4&:`, all up to where
    the count `before` begins.
    """

    kind: Literal["pickup", "last"]
    bar: Bar
    beats: Share | None = None
    start: WrittenCount | None = None
    through: WrittenCount | None = None
    before: WrittenCount | None = None
    margin: Margin = BARE
    length_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped()
@frozen(kw_only=True)
class MeterChange:
    """`meter 2/4`: from here on in the section."""

    meter: WrittenMeter
    margin: Margin = BARE
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped()
@frozen(kw_only=True)
class UsingLine:
    """`using pinched` on a line of its own: the section's pattern from here on."""

    using: SmallName
    margin: Margin = BARE
    using_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped()
@frozen(kw_only=True)
class RepeatStart:
    """`repeat 2`: what follows, up to `end`, is played `times` times."""

    times: Repeats
    margin: Margin = BARE
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped(also=_wrong_ending)
@frozen(kw_only=True)
class EndingStart:
    """`ending 1: ...`: bars for those passes only; the lines after it belong to it as well."""

    passes: tuple[Times, ...]
    bars: tuple[Bar, ...]
    margin: Margin = BARE
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped()
@frozen(kw_only=True)
class RepeatEnd:
    """`end`: the end of the innermost repeat."""

    margin: Margin = BARE
    span: Span | None = field(default=None, eq=False, repr=False)


SectionLine = (
    BarLine
    | ShortBar
    | WordsLine
    | UsingLine
    | MeterChange
    | TempoChange
    | TempoRamp
    | BackToTempo
    | FreeTime
    | DynamicChange
    | DynamicRamp
    | RepeatStart
    | EndingStart
    | RepeatEnd
    | Unread
)


@shaped()
@frozen(kw_only=True)
class Section:
    """A named run of bars; `stated_bars` is the length that the teacher wrote.

    `opening` is as in `Heading`.
    """

    name: SmallName
    title: Quoted = ""
    using: MaybeSmallName = ""
    meter: WrittenMeter | None = None
    stated_bars: Amount | None = None
    lines: tuple[SectionLine, ...] = ()
    tail: tuple[Comment, ...] = ()
    margin: Margin = BARE
    opening: Opening = ""
    name_span: Span | None = field(default=None, eq=False, repr=False)
    using_span: Span | None = field(default=None, eq=False, repr=False)
    stated_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)
