"""Sections: their opening line, and the lines of bars in them, to the model."""

from __future__ import annotations

import re
from typing import Any, Literal

from fretloom.limits import LIMITS
from fretloom.notation.model.margin import Margin, Unread
from fretloom.notation.model.section import (
    Bar,
    BarLine,
    EndingStart,
    MeterChange,
    RepeatEnd,
    RepeatStart,
    Section,
    SectionLine,
    ShortBar,
    UsingLine,
)
from fretloom.notation.model.words import unread_bar
from fretloom.notation.syntax.building.bars import (
    UNREAD_BAR,
    bars_start,
    empty_bar,
    pieces,
    read_bar,
    read_bars,
    read_count,
    with_texts,
)
from fretloom.notation.syntax.building.expression import EXPRESSION_READERS
from fretloom.notation.syntax.building.heading import read_meter
from fretloom.notation.syntax.building.patterns import given_once, section_meter
from fretloom.notation.syntax.lines import Line
from fretloom.notation.syntax.parsing.tree import Token, number, text_of, whole
from fretloom.notation.syntax.reader import Attempt, Reader, token_span, tree_span
from fretloom.source import Span


def section(reader: Reader, line: Line, margin: Margin) -> Section | None:
    """Read the opening line of a section; None after noting a fault."""
    tree = reader.tree(line, "section_line")
    if tree is None:
        return _salvaged(line, margin)
    name = tree.token(0)
    fields: dict[str, Any] = {}
    for place, child in enumerate(tree.children[1:], 1):
        if isinstance(child, Token):
            given_once(reader, token_span(line, child), "title" in fields, "a title")
            fields["title"] = text_of(child)
            continue
        option = tree.node(place)
        span = tree_span(line, option)
        kind = _OPTIONS[option.name]
        given_once(reader, span, kind in fields, _OPTION_WORDS[kind])
        if option.name == "stated_bars":
            fields["stated_bars"] = _whole_bars(reader, span, option.token(0))
            fields["stated_span"] = span
        elif option.name == "using":
            fields["using"] = option.token(0).text
            fields["using_span"] = span
        else:
            fields["meter"] = section_meter(reader, line, option)
    return Section(
        name=name.text, margin=margin, name_span=token_span(line, name), span=line.span(), **fields
    )


#: The fields that the options of an opening line fill, and what a message calls these.
_OPTIONS = {"stated_bars": "stated_bars", "using": "using", "section_meter": "meter"}
_OPTION_WORDS = {"stated_bars": "the length", "using": "the pattern", "meter": "the meter"}


def _whole_bars(reader: Reader, span: Span, count: Token) -> int | None:
    bars = whole(count)
    if bars is None:
        message = f"a section has a whole number of bars, not {count.text}"
        reader.fault("bad-count", span, message, "count an incomplete first or last bar out")
    return bars


_NAME_AND_USING = re.compile(r"section\s+([^\W\d_][\w-]*).*?\busing\s+([^\W\d_][\w-]*)")


def _salvaged(line: Line, margin: Margin) -> Section | None:
    """Go on with the name and pattern of a faulty opening line, if both can be seen."""
    match = _NAME_AND_USING.match(line.statement)
    if match is None or match[2] in ("pattern", "the"):
        return None
    return Section(
        name=match[1],
        using=match[2],
        margin=margin,
        name_span=line.span(match.start(1), match.end(1)),
        using_span=line.span(match.start(2), match.end(2)),
        span=line.span(),
    )


def body_line(reader: Reader, line: Line, margin: Margin) -> SectionLine:
    """Read one line of a section. A faulty bar is kept as unread, the others are read all the same."""
    with reader.attempt() as attempt:
        tree = reader.tree(line, "body_line")
    if tree is None:
        if (
            "|" in line.statement
            and attempt.faults[-1].span.start not in reader.explained
            and attempt.faults[-1].rule == "not-understood"
            and _salvageable(line)
        ):
            return _bar_by_bar(reader, line, margin, attempt)
        reader.note(attempt.faults)
        return Unread(line.statement, margin=margin)
    kind = tree.name
    if kind == "body_line":
        bars = read_bars(reader, line, tree.node(0))
        if not _can_be_written(bars) or bars[0] == UNREAD_BAR == bars[-1]:
            return Unread(line.statement, margin=margin)
        return BarLine(bars=bars, margin=margin, span=line.span())
    read = _READERS[kind](reader, line, margin, list(tree.children))
    if isinstance(read, EndingStart | ShortBar):
        bars = read.bars if isinstance(read, EndingStart) else (read.bar,)
        read = read if _can_be_written(bars) else None
    return read if read is not None else Unread(line.statement, margin=margin)


def _can_be_written(bars: tuple[Bar, ...]) -> bool:
    """Whether unread bars can be written apart; after `|#` one would be a comment."""
    return not any(bar.kind == "unread" and unread_bar(bar.text) for bar in bars)


def _salvageable(line: Line) -> bool:
    kept = ("meter", "tempo", "repeat", "end", "words", "words:", "dynamic")
    return line.word not in kept and "|:" not in line.statement


def _bar_by_bar(reader: Reader, line: Line, margin: Margin, whole_line: Attempt) -> SectionLine:
    """Read the bars of a faulty line one at a time, so that the good ones count."""
    before = reader.count
    start = bars_start(line)
    bars: list[Bar] = []
    cut = list(pieces(line.statement, start))
    for index, (begin, end) in enumerate(cut):
        if not line.statement[begin:end].strip():
            if 0 < index < len(cut) - 1:
                empty_bar(reader, line.span(begin - 1, end + 1))
                bars.append(UNREAD_BAR)
            continue
        if reader.count - before > LIMITS.faults:
            return Unread(line.statement, margin=margin)
        tree = reader.tree(line, "bar", begin, end)
        bars.append(UNREAD_BAR if tree is None else read_bar(reader, line, tree))
    if reader.count == before:
        reader.note(whole_line.faults)
    if reader.count == before or start or not bars:
        return Unread(line.statement, margin=margin)
    kept = with_texts(line, bars)
    if not _can_be_written(kept):
        return Unread(line.statement, margin=margin)
    return BarLine(bars=kept, margin=margin, span=line.span())


_BEFORE = re.compile(r"last\s+before(?!\S)")


def _short(reader: Reader, line: Line, margin: Margin, children: list[Any]) -> ShortBar | None:
    kind: Literal["pickup", "last"] = "last" if line.word == "last" else "pickup"
    length = children[0]
    beats, start, through, before = None, None, None, None
    if length.kind == "COUNT":
        count = read_count(reader, line, length)
        if kind == "pickup":
            start = count
        elif _BEFORE.match(line.statement):
            before = count
        else:
            through = count
    else:
        beats = number(length)
        if not beats:
            reader.fault(
                "bad-count",
                token_span(line, length),
                f"a {'last bar' if kind == 'last' else kind} cannot have 0 beats",
                "write how many beats it has",
            )
            return None
    (bar,) = with_texts(line, [read_bar(reader, line, children[1])])
    if beats is None and start is None and through is None and before is None:
        return None
    return ShortBar(
        kind=kind,
        bar=bar,
        beats=beats,
        start=start,
        through=through,
        before=before,
        margin=margin,
        length_span=token_span(line, length),
        span=line.span(),
    )


def _meter(reader: Reader, line: Line, margin: Margin, children: list[Any]) -> MeterChange | None:
    meter = read_meter(reader, line, children)
    return None if meter is None else MeterChange(meter=meter, margin=margin, span=line.span())


def _using(reader: Reader, line: Line, margin: Margin, children: list[Any]) -> UsingLine:
    span = token_span(line, children[0])
    return UsingLine(using=children[0].text, margin=margin, using_span=span, span=line.span())


def _repeat(reader: Reader, line: Line, margin: Margin, children: list[Any]) -> RepeatStart | None:
    times = whole(children[0])
    if times is None or not 1 <= times <= LIMITS.repeats:
        message = f"a repeat can be played 1 to {LIMITS.repeats} times"
        hint = "write how often it is played in all: repeat 2"
        reader.fault("bad-count", token_span(line, children[0]), message, hint)
        return None
    return RepeatStart(times=times, margin=margin, span=line.span())


def _ending(reader: Reader, line: Line, margin: Margin, children: list[Any]) -> EndingStart | None:
    passes = [whole(token) for token in children[:-1]]
    if any(not one for one in passes):
        message = "an ending is numbered by the passes it is for, counted from 1"
        reader.fault("bad-count", line.span(), message, "write ending 1: or ending 1 2:")
        return None
    bars = read_bars(reader, line, children[-1])
    numbers = tuple(one for one in passes if one)
    return EndingStart(passes=numbers, bars=bars, margin=margin, span=line.span())


def _end(reader: Reader, line: Line, margin: Margin, children: list[Any]) -> RepeatEnd:
    return RepeatEnd(margin=margin, span=line.span())


_READERS: dict[str, Any] = {
    "pickup": _short,
    "pickup_from": _short,
    "last": _short,
    "last_to": _short,
    "last_before": _short,
    "meter": _meter,
    "using_line": _using,
    "repeat": _repeat,
    "ending": _ending,
    "end": _end,
    **EXPRESSION_READERS,
}
