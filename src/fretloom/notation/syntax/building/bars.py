"""Bars, and what can be said in one, to the model."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, cast

from fretloom.errors import SymbolError
from fretloom.limits import LIMITS
from fretloom.notation.model.pattern import PatternBar
from fretloom.notation.model.section import Bar, Part, With, Without
from fretloom.notation.syntax import synonyms
from fretloom.notation.syntax.building.patterns import BeatBuilder
from fretloom.notation.syntax.lines import Line
from fretloom.notation.syntax.parsing.plain_beats import PlainBeats
from fretloom.notation.syntax.parsing.tree import Token, Tree, number, text_of
from fretloom.notation.syntax.reader import Reader, token_span, tree_span
from fretloom.source import Span
from fretloom.trade.guitar.plucking import PickingFinger
from fretloom.trade.guitar.voicing import NO_CHORD, is_no_chord, one_no_chord
from fretloom.trade.music.meter import Count, parse_count
from fretloom.values import evolve

UNREAD_BAR = Bar(kind="unread")


def pieces(statement: str, start: int) -> Iterator[tuple[int, int]]:
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


def read_bars(reader: Reader, line: Line, tree: Tree) -> tuple[Bar, ...]:
    """Read bars; bar lines at both ends of the line are allowed, an empty bar between is a fault."""
    trees = tree.nodes()
    bars: list[Bar] = []
    begin = 0
    for index, child in enumerate(trees):
        if child.children:
            bars.append(read_bar(reader, line, child))
            begin = tree_span(line, child).end - line.start
        elif 0 < index < len(trees) - 1:
            bar_line = line.statement.find("|", begin)
            empty_bar(reader, line.span(max(bar_line, 0), max(bar_line, 0) + 1))
            bars.append(UNREAD_BAR)
    if not bars and trees:
        empty_bar(reader, line.span())
        bars.append(UNREAD_BAR)
    return with_texts(line, bars)


def bars_start(line: Line) -> int:
    """Return where the bars of a line begin, after the colon if words stand before them."""
    return line.statement.find(":") + 1 if line.word in ("ending", "pickup", "last", "but") else 0


def with_texts(line: Line, bars: Sequence[Bar]) -> tuple[Bar, ...]:
    """Give the unread ones among the bars of a line the text that stands there."""
    if all(bar.kind != "unread" for bar in bars):
        return tuple(bars)
    cut = [
        line.statement[begin:end].strip(" \t")
        for begin, end in pieces(line.statement, bars_start(line))
    ]
    # A bar line at either end decides how the line is read, so that it is kept as well.
    if len(cut) > 1 and not cut[0]:
        del cut[0]
        cut[0] = f"| {cut[0]}"
    if len(cut) > 1 and not cut[-1]:
        del cut[-1]
        cut[-1] = f"{cut[-1]} |"
    return tuple(
        evolve(bar, text=text) if bar.kind == "unread" else bar
        for bar, text in zip(bars, cut, strict=True)
    )


def empty_bar(reader: Reader, span: Span) -> None:
    """Note a bar with nothing in it."""
    hint = "write rest for a silent bar or % for the bar before, or remove a |"
    reader.fault("empty-bar", span, "there is nothing between two bar lines", hint)


def read_bar(reader: Reader, line: Line, tree: Tree) -> Bar:
    """Read one bar; after a fault it is unread."""
    span = tree_span(line, tree)
    before = reader.count
    fields: dict[str, Any] = {"span": span}
    parts: list[Part] = []
    patches: list[With | Without] = []
    for place, child in enumerate(tree.children):
        if isinstance(child, Token):
            fields |= _bar_word(reader, line, child, fields)
            continue
        option = tree.node(place)
        if option.name == "part":
            parts.append(read_part(reader, line, option))
            if _says_no_chord(parts):
                parts[-2:] = [evolve(parts[-1], voicing=NO_CHORD)]
        elif option.name in ("with", "without"):
            patch = _patch(reader, line, option)
            if patch is not None:
                patches.append(patch)
        else:
            fields |= _bar_option(reader, line, option, fields)
    if len(patches) > LIMITS.patches:
        message = f"this bar has {len(patches)} changes with `with` and `without`, and the limit is {LIMITS.patches}"
        reader.fault("beat-too-full", span, message, "write the bar out between { }")
    if len(parts) > LIMITS.parts:
        message = f"this bar has {len(parts)} voicings, and the limit is {LIMITS.parts}"
        reader.fault("beat-too-full", span, message, "put a | between two bars")
    _check_bar(reader, line, span, parts, fields)
    if reader.count > before:
        return evolve(UNREAD_BAR, times=fields.get("times", 1), span=span)
    return Bar(parts=tuple(parts), patches=tuple(patches), **fields)


def _says_no_chord(parts: Sequence[Part]) -> bool:
    """Whether the last two names of a bar are the words `no chord`."""
    if len(parts) < 2 or parts[-2].beats is not None:
        return False
    return is_no_chord(f"{parts[-2].voicing} {parts[-1].voicing}")


def read_part(reader: Reader, line: Line, tree: Tree) -> Part:
    """Read `E` or `E:3`."""
    name = tree.token(0)
    called = one_no_chord(name.text)
    if name.text in synonyms.BARS:
        message = f"`{name.text}` is not a voicing"
        hint = f"did you mean {synonyms.BARS[name.text]}?"
        reader.fault("not-understood", token_span(line, name), message, hint)
    if len(tree.children) == 1:
        return Part(voicing=called, span=token_span(line, name))
    share = tree.token(1)
    span = token_span(line, name).to(token_span(line, share))
    return Part(voicing=called, beats=number(share), span=span)


_KINDS = {"SAME": "same", "REST": "rest", "AS_WRITTEN": "written"}


def _bar_word(reader: Reader, line: Line, token: Token, given: dict[str, Any]) -> dict[str, Any]:
    """Read a cue or a sign for the whole bar; `given` is what the bar has so far."""
    if token.kind == "STRING":
        return {"cue": text_of(token)}
    if "kind" in given:
        message = f"`{token.text}` cannot stand in a bar with another sign for the whole bar"
        reader.fault("not-understood", token_span(line, token), message, "put a | between two bars")
    return {"kind": _KINDS[token.kind]}


def _bar_option(reader: Reader, line: Line, tree: Tree, given: dict[str, Any]) -> dict[str, Any]:
    """Read x2, using, a written-out pattern, or a count at which something happens."""
    kind, span = tree.name, tree_span(line, tree)
    if ("beats" if kind == "written" else kind) in given:
        message = (
            f"`{'x2' if kind == 'times' else kind}` stands twice in one bar"
            if kind != "written"
            else "there are two { } in one bar"
        )
        reader.fault("not-understood", span, message, "keep one of them")
        return {}
    if kind == "times":
        times = int(tree.token(0).text[1:])
        if times < 1:
            message, hint = "a bar cannot be played 0 times", "write x2 or more, or leave it out"
            reader.fault("bad-count", span, message, hint)
        return {"times": times, "times_span": span}
    if kind == "using":
        return {"using": tree.token(0).text, "using_span": span}
    if kind == "written":
        return {"beats": _written(reader, line, tree, span)}
    return {kind: read_count(reader, line, tree.token(0)), f"{kind}_span": span}


def _written(reader: Reader, line: Line, tree: Tree, span: Span) -> PatternBar:
    """Read the beats between { and }."""
    builder = BeatBuilder(reader, line)
    beats = tree.children[0]
    if isinstance(beats, PlainBeats):
        return builder.plain_bar(beats)
    closing = line.statement.find("}", span.end - line.start)
    return builder.bar(tree.node(0), closing if closing >= 0 else len(line.statement))


def read_count(reader: Reader, line: Line, token: Token) -> Count | None:
    """Read a count; None after noting a fault."""
    span = token_span(line, token)
    try:
        count = parse_count(token.text)
    except SymbolError as error:
        reader.symbol_fault("bad-count", span, error)
        return None
    if count.number < 1:
        reader.fault(
            "bad-count", span, "counting starts at 1", "write on 1 for the start of the bar"
        )
        return None
    return count


def _patch(reader: Reader, line: Line, tree: Tree) -> With | Without | None:
    count = read_count(reader, line, tree.token(-1))
    span = tree_span(line, tree)
    if len(tree.children) < 2:
        example = "with a@3 on 3" if tree.name == "with" else "without p on 4"
        message = f"`{tree.name}` does not say which finger"
        reader.fault("not-understood", span, message, f"write it like this: {example}")
        return None
    if tree.name == "without":
        if count is None:
            return None
        return Without(finger=cast("PickingFinger", tree.token(0).text), count=count, span=span)
    pluck = BeatBuilder(reader, line).pluck(tree.token(0))
    if count is None or pluck is None:  # A fault has been noted.
        return None
    return With(pluck=pluck, count=count, span=span)


def _check_bar(
    reader: Reader, line: Line, span: Span, parts: list[Part], fields: dict[str, Any]
) -> None:
    """Note what does not make sense inside one bar."""
    if "kind" in fields and parts:
        message = "a bar holds voicings, or a sign for the whole bar (%, rest), not both"
        reader.fault("not-understood", span, message, "put a | between two bars")
    elif "kind" not in fields and not parts:
        message = "this bar does not name a voicing"
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
