"""Loudness, speed and free time as written: from a line on, or growing over bars."""

from __future__ import annotations

from typing import Annotated, Literal

from attrs import field

from fretloom.limits import LIMITS
from fretloom.notation.model.limits import WrittenTempo
from fretloom.notation.model.margin import BARE, Margin
from fretloom.shapes import between, shaped
from fretloom.source import Span
from fretloom.trade.music.loudness import Dynamic
from fretloom.values import frozen

#: How many bars something grows over.
OverBars = Annotated[int, between(1, LIMITS.bars_written)]


@shaped()
@frozen(kw_only=True)
class TempoChange:
    """`tempo 72`: from here on in the section."""

    tempo: WrittenTempo
    margin: Margin = BARE
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped()
@frozen(kw_only=True)
class TempoRamp:
    """`ritardando to 60 over 2 bars`, or `accelerando`: evenly over the bars below, which then stay so."""

    kind: Literal["ritardando", "accelerando"]
    tempo: WrittenTempo
    bars: OverBars
    margin: Margin = BARE
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped()
@frozen(kw_only=True)
class BackToTempo:
    """`a tempo`: the tempo with which the section began; ends free time."""

    margin: Margin = BARE
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped()
@frozen(kw_only=True)
class FreeTime:
    """`free time`: no steady beat from here on in the section, up to a tempo."""

    margin: Margin = BARE
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped()
@frozen(kw_only=True)
class DynamicChange:
    """`dynamic mf`: so loud from here on, also in the sections that follow."""

    dynamic: Dynamic
    margin: Margin = BARE
    span: Span | None = field(default=None, eq=False, repr=False)


@shaped()
@frozen(kw_only=True)
class DynamicRamp:
    """`crescendo to f over 4 bars`, or `diminuendo`: evenly over the bars below, which then stay so."""

    kind: Literal["crescendo", "diminuendo"]
    dynamic: Dynamic
    bars: OverBars
    margin: Margin = BARE
    span: Span | None = field(default=None, eq=False, repr=False)
