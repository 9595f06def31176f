"""Sections: their opening line, and the lines of bars in them, to the model."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, cast

from attrs import evolve

from fretloom.errors import SymbolError
from fretloom.model.margin import Margin, Unread
from fretloom.model.section import (
    Bar,
    BarLine,
    EndingStart,
    MeterChange,
    Part,
    RepeatEnd,
    RepeatStart,
    Section,
    SectionLine,
    ShortBar,
    TempoChange,
    With,
    Without,
)
from fretloom.music.meter import Count, parse_count
from fretloom.source import Span
from fretloom.syntax.build_heading import read_meter, read_tempo
from fretloom.syntax.build_patterns import BeatBuilder, check_small_name, section_meter
from fretloom.syntax.lines import Line
from fretloom.syntax.reader import Reader, number, text_of, token_span, tree_span, whole

if TYPE_CHECKING:
    from lark import Token, Tree

UNREAD_BAR = Bar(kind="unread")


def section(reader: Reader, line: Line, margin: Margin) -> Section | None:
    """Read the opening line of a section; None after noting a fault."""
    tree = reader.tree(line, "section_line")
    if tree is None:
        return None
    name = cast("Token", tree.children[0])
    check_small_name(reader, token_span(line, name), str(name), "section")
    fields: dict[str, Any] = {}
    for child in tree.children[1:]:
        if _is_token(child):
            fields["title"] = text_of(cast("Token", child))
            continue
        option = cast("Tree[Token]", child)
        span = tree_span(line, option)
        if option.data == "stated_bars":
            fields["stated_bars"] = whole(cast("Token", option.children[0]))
            fields["stated_span"] = span
        elif option.data == "using":
            fields["using"] = str(option.children[0])
            fields["using_span"] = span
        else:
            fields["meter"] = section_meter(reader, line, option)
    return Section(
        name=str(name), margin=margin, name_span=token_span(line, name), span=line.span(), **fields
    )


def body_line(reader: Reader, line: Line, margin: Margin) -> SectionLine:
    """Read one line of a section. A faulty bar is kept as unread, the others are read all the same."""
    before = len(reader.faults)
    tree = reader.tree(line, "body_line")
    if tree is None:
        if "|" in line.statement and line.word not in ("meter", "tempo", "repeat", "end"):
            return _bar_by_bar(reader, line, margin, before)
        return Unread(line.statement, margin=margin)
    children: list[Any] = list(tree.children)
    kind = tree.data
    if kind == "body_line":
        return BarLine(bars=read_bars(reader, line, children[0]), margin=margin, span=line.span())
    read = _READERS[kind](reader, line, margin, children)
    return read if read is not None else Unread(line.statement, margin=margin)


def _bar_by_bar(reader: Reader, line: Line, margin: Margin, before: int) -> SectionLine:
    """Read the bars of a faulty line one at a time, so that the good ones count."""
    whole_line_faults = reader.faults[before:]
    del reader.faults[before:]
    start = 0
    if line.word in ("ending", "pickup", "last") and ":" in line.statement:
        start = line.statement.index(":") + 1
    bars: list[Bar] = []
    pieces = list(_pieces(line.statement, start))
    for index, (begin, end) in enumerate(pieces):
        if not line.statement[begin:end].strip():
            if 0 < index < len(pieces) - 1:
                _empty_bar(reader, line.span(begin - 1, end + 1))
            continue
        tree = reader.tree(line, "bar", begin, end)
        bars.append(UNREAD_BAR if tree is None else read_bar(reader, line, tree))
    if len(reader.faults) == before:
        reader.faults += whole_line_faults
        return Unread(line.statement, margin=margin)
    return BarLine(bars=tuple(bars), margin=margin, span=line.span())


def _pieces(statement: str, start: int) -> Iterator[tuple[int, int]]:
    """Yield where the bars of a line begin and end, passing over bar lines in quotes."""
    begin, quoted = start, False
    for position in range(start, len(statement)):
        sign = statement[position]
        if sign == '"' and statement[position - 1 : position] != "\\":
            quoted = not quoted
        elif sign == "|" and not quoted:
            yield begin, position
            begin = position + 1
    yield begin, len(statement)


def read_bars(reader: Reader, line: Line, tree: Tree[Token]) -> tuple[Bar, ...]:
    """Read bars; bar lines at both ends of the line are let pass, an empty bar between is a fault."""
    trees = cast("list[Tree[Token]]", tree.children)
    bars: list[Bar] = []
    for index, child in enumerate(trees):
        if child.children:
            bars.append(read_bar(reader, line, child))
        elif 0 < index < len(trees) - 1:
            before = next((one for one in reversed(trees[:index]) if one.children), None)
            begin = tree_span(line, before).end - line.start if before else 0
            bar_line = line.statement.find("|", begin)
            _empty_bar(reader, line.span(max(bar_line, 0), max(bar_line, 0) + 1))
            bars.append(UNREAD_BAR)
    if not bars and trees:
        _empty_bar(reader, line.span())
        bars.append(UNREAD_BAR)
    return tuple(bars)


def _empty_bar(reader: Reader, span: Span) -> None:
    hint = "write rest for a silent bar or % for the bar before, or take a | away"
    reader.fault("empty-bar", span, "there is nothing between two bar lines", hint)


def read_bar(reader: Reader, line: Line, tree: Tree[Token]) -> Bar:
    """Read one bar; after a fault it is unread."""
    before = len(reader.faults)
    span = tree_span(line, tree)
    children = cast("list[Any]", tree.children)
    if len(children) == 1 and not _is_token(children[0]) and children[0].data == "part":
        part = read_part(line, children[0])
        if part.beats is None:
            return Bar(parts=(part,), span=span)
    fields: dict[str, Any] = {"span": span}
    parts: list[Part] = []
    patches: list[With | Without] = []
    for child in children:
        if _is_token(child):
            _bar_word(reader, line, child, fields)
        elif child.data == "part":
            parts.append(read_part(line, child))
        elif child.data in ("with", "without"):
            patch = _patch(reader, line, child)
            if patch is not None:
                patches.append(patch)
        else:
            _bar_option(reader, line, child, fields)
    _check_bar(reader, line, span, parts, fields)
    if len(reader.faults) > before:
        return evolve(UNREAD_BAR, times=fields.get("times", 1), span=span)
    return Bar(parts=tuple(parts), patches=tuple(patches), **fields)


def _is_token(child: object) -> bool:
    from lark import Token as LarkToken

    return isinstance(child, LarkToken)


def read_part(line: Line, tree: Tree[Token]) -> Part:
    """Read `E` or `E:3`."""
    name = cast("Token", tree.children[0])
    if len(tree.children) == 1:
        return Part(voicing=str(name), span=token_span(line, name))
    share = cast("Token", tree.children[1])
    span = token_span(line, name).to(token_span(line, share))
    return Part(voicing=str(name), beats=number(share), span=span)


_KINDS = {"SAME": "same", "REST": "rest", "AS_WRITTEN": "written"}


def _bar_word(reader: Reader, line: Line, token: Token, fields: dict[str, Any]) -> None:
    if token.type == "STRING":
        fields["cue"] = text_of(token)
        return
    if "kind" in fields:
        message = f"`{token}` cannot stand in a bar with another sign for the whole bar"
        reader.fault("not-understood", token_span(line, token), message, "put a | between two bars")
    fields["kind"] = _KINDS[token.type]


def _bar_option(reader: Reader, line: Line, tree: Tree[Token], fields: dict[str, Any]) -> None:
    """Read x2, using, a written-out pattern, or a count at which something happens."""
    kind, span = str(tree.data), tree_span(line, tree)
    key = {"written": "beats"}.get(kind, kind)
    if key in fields:
        message = (
            f"`{kind}` stands twice in one bar"
            if kind != "written"
            else "there are two { } in one bar"
        )
        reader.fault("not-understood", span, message, "keep one of them")
        return
    if kind == "times":
        times = int(str(tree.children[0])[1:])
        if times < 1:
            reader.fault(
                "bad-count",
                span,
                "a bar cannot be played 0 times",
                "write x2 or more, or leave it out",
            )
        fields.update(times=times, times_span=span)
    elif kind == "using":
        fields.update(using=str(tree.children[0]), using_span=span)
    elif kind == "written":
        builder = BeatBuilder(reader, line)
        closing = line.statement.find("}", span.end - line.start)
        beats = builder.bar(
            cast("Tree[Token]", tree.children[0]), closing if closing >= 0 else len(line.statement)
        )
        fields["beats"] = beats
    else:
        count = _count(reader, line, cast("Token", tree.children[0]))
        fields.update({kind: count, f"{kind}_span": span})


def _count(reader: Reader, line: Line, token: Token) -> Count | None:
    span = token_span(line, token)
    try:
        count = parse_count(str(token))
    except SymbolError as error:
        reader.symbol_fault("bad-count", span, error)
        return None
    if count.number < 1:
        reader.fault(
            "bad-count", span, "counting starts at 1", "write on 1 for the start of the bar"
        )
        return None
    return count


def _patch(reader: Reader, line: Line, tree: Tree[Token]) -> With | Without | None:
    count = _count(reader, line, cast("Token", tree.children[1]))
    span = tree_span(line, tree)
    if tree.data == "without":
        if count is None:
            return None
        return Without(finger=str(tree.children[0]), count=count, span=span)
    pluck = BeatBuilder(reader, line).pluck(cast("Token", tree.children[0]))
    if count is None or pluck is None:
        return None
    return With(pluck=pluck, count=count, span=span)


def _check_bar(
    reader: Reader, line: Line, span: Span, parts: list[Part], fields: dict[str, Any]
) -> None:
    """Note what makes no sense inside one bar."""
    if "kind" in fields and parts:
        message = "a bar holds voicings, or a sign for the whole bar (%, rest), not both"
        reader.fault("not-understood", span, message, "put a | between two bars")
    elif "kind" not in fields and not parts:
        message = "this bar names no voicing"
        reader.fault(
            "not-understood", span, message, "start the bar with a voicing: E using pinched, E x2"
        )
    elif "using" in fields and "beats" in fields:
        reader.fault(
            "not-understood",
            span,
            "a bar has a pattern by name or written out, not both",
            "keep one",
        )
    for part in parts:
        if part.beats is not None and not part.beats:
            hint = f"leave the share out, or write how many beats: {part.voicing}:2"
            reader.fault(
                "bad-count", part.span or span, f"{part.voicing} cannot last 0 beats", hint
            )


def _short(reader: Reader, line: Line, margin: Margin, children: list[Any]) -> ShortBar | None:
    kind = "last" if line.word == "last" else "pickup"
    length = children[0]
    beats, start = None, None
    if length.type == "COUNT":
        start = _count(reader, line, length)
    else:
        beats = number(length)
        if not beats:
            reader.fault(
                "bad-count",
                token_span(line, length),
                f"a {kind} of 0 beats is no bar",
                "give its beats",
            )
            return None
    bar = read_bar(reader, line, children[1])
    if beats is None and start is None:
        return None
    return ShortBar(
        kind=kind,
        bar=bar,
        beats=beats,
        start=start,
        margin=margin,
        length_span=token_span(line, length),
        span=line.span(),
    )


def _meter(reader: Reader, line: Line, margin: Margin, children: list[Any]) -> MeterChange | None:
    meter = read_meter(reader, line, children)
    return None if meter is None else MeterChange(meter=meter, margin=margin, span=line.span())


def _tempo(reader: Reader, line: Line, margin: Margin, children: list[Any]) -> TempoChange | None:
    tempo = read_tempo(reader, line, children)
    return None if tempo is None else TempoChange(tempo=tempo, margin=margin, span=line.span())


def _repeat(reader: Reader, line: Line, margin: Margin, children: list[Any]) -> RepeatStart | None:
    times = whole(children[0])
    if times is None or not 1 <= times <= 9999:
        message = f"nothing can be repeated {children[0]} times"
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
    "meter": _meter,
    "tempo": _tempo,
    "repeat": _repeat,
    "ending": _ending,
    "end": _end,
}
