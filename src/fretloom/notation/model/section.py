"""Sections as written: lines of bars, and the signs that change how they are played."""

from __future__ import annotations

from fractions import Fraction

from attrs import field

from fretloom.notation.model.margin import BARE, Margin, Unread
from fretloom.notation.model.pattern import Brush, PatternBar, Pluck
from fretloom.source import Span
from fretloom.trade.music.meter import Count, Meter
from fretloom.trade.music.tempo import Tempo
from fretloom.values import frozen


@frozen(kw_only=True)
class Part:
    """A voicing in a bar, with its share in beats (`E:3`) or None for an equal share."""

    voicing: str
    beats: Fraction | None = None
    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class With:
    """`with a@3 on 3`: one more pluck, on that count."""

    pluck: Pluck | Brush
    count: Count
    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class Without:
    """`without p on 4`: what that finger plucks on that count is left out."""

    finger: str
    count: Count
    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class Bar:
    """One written bar, played `times` times in a row.

    `kind` is "voicings" (see `parts`), "same" (`%`, the bar before), "rest", "written" (the word
    `same` in a `but`: the bar as the section has it), or "unread": the bar could not be understood
    (which has been reported), so it is silent and not reported again. `using` names a pattern,
    `beats` is one written out in `{ }`; without either the section's pattern is used. `early` is a
    count of the bar *before* at which the hand is already on the first voicing; from `release` on
    the fretting hand has let go; at `stop` all strings are damped.
    """

    kind: str = "voicings"
    parts: tuple[Part, ...] = ()
    times: int = 1
    cue: str = ""
    using: str = ""
    beats: PatternBar | None = None
    patches: tuple[With | Without, ...] = ()
    early: Count | None = None
    release: Count | None = None
    stop: Count | None = None
    using_span: Span | None = field(default=None, eq=False, repr=False)
    early_span: Span | None = field(default=None, eq=False, repr=False)
    release_span: Span | None = field(default=None, eq=False, repr=False)
    stop_span: Span | None = field(default=None, eq=False, repr=False)
    times_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class BarLine:
    """A line of bars."""

    bars: tuple[Bar, ...]
    margin: Margin = BARE
    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class ShortBar:
    """`pickup 1: ...` an incomplete first bar, or `last 3: ...` an incomplete last one.

    The length is `beats`, or, for `pickup from 4&:`, what is left of the bar from `start` on.
    """

    kind: str
    bar: Bar
    beats: Fraction | None = None
    start: Count | None = None
    margin: Margin = BARE
    length_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class MeterChange:
    """`meter 2/4`: from here on in the section."""

    meter: Meter
    margin: Margin = BARE
    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class TempoChange:
    """`tempo 72`: from here on in the section."""

    tempo: Tempo
    margin: Margin = BARE
    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class RepeatStart:
    """`repeat 2`: what follows, up to `end`, is played `times` times."""

    times: int
    margin: Margin = BARE
    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class EndingStart:
    """`ending 1: ...`: bars for those passes only; the lines after it belong to it as well."""

    passes: tuple[int, ...]
    bars: tuple[Bar, ...]
    margin: Margin = BARE
    span: Span | None = field(default=None, eq=False, repr=False)


@frozen(kw_only=True)
class RepeatEnd:
    """`end`: the end of the innermost repeat."""

    margin: Margin = BARE
    span: Span | None = field(default=None, eq=False, repr=False)


SectionLine = (
    BarLine | ShortBar | MeterChange | TempoChange | RepeatStart | EndingStart | RepeatEnd | Unread
)


@frozen(kw_only=True)
class Section:
    """A named run of bars; `stated_bars` is the length that the teacher wrote."""

    name: str
    title: str = ""
    using: str = ""
    meter: Meter | None = None
    stated_bars: int | None = None
    lines: tuple[SectionLine, ...] = ()
    tail: tuple[str, ...] = ()
    margin: Margin = BARE
    name_span: Span | None = field(default=None, eq=False, repr=False)
    using_span: Span | None = field(default=None, eq=False, repr=False)
    stated_span: Span | None = field(default=None, eq=False, repr=False)
    span: Span | None = field(default=None, eq=False, repr=False)
