"""Lines of the `form` block and of steps to the model."""

from __future__ import annotations

from fractions import Fraction
from typing import Any, cast

from fretloom.diagnostics import Edit
from fretloom.notation.model.form import (
    LAST,
    But,
    ChangeBars,
    ChangePattern,
    ChangeTempo,
    DropBars,
    FormEntry,
)
from fretloom.notation.model.limits import TEMPOS
from fretloom.notation.model.margin import Margin, Unread
from fretloom.notation.model.step import Show
from fretloom.notation.syntax.building.bars import read_bars
from fretloom.notation.syntax.building.heading import read_tempo
from fretloom.notation.syntax.lines import Line
from fretloom.notation.syntax.parsing.tree import Token, Tree, number, whole
from fretloom.notation.syntax.reader import Reader, token_span, tree_span
from fretloom.source import Span


def form_line(reader: Reader, line: Line, margin: Margin) -> FormEntry | But:
    """Read an entry of the form, or a `but` under one."""
    before = reader.count
    tree = reader.tree(line, "form_line")
    if tree is None:
        return Unread(line.statement, margin=margin)
    children = cast("list[Any]", tree.children)
    read = _READERS[tree.name](reader, line, margin, children)
    if read is None or reader.count > before:
        return Unread(line.statement, margin=margin)
    return cast("FormEntry | But", read)


def _entry(reader: Reader, line: Line, margin: Margin, children: list[Any]) -> FormEntry | None:
    name = children[0]
    times = int(children[1].text[1:]) if len(children) > 1 else 1
    if times < 1:
        span = token_span(line, children[1])
        reader.fault(
            "bad-count",
            span,
            f"{name.text} cannot be played 0 times",
            "write x2 or more, or remove the line",
        )
        return None
    return FormEntry(
        section=name.text,
        times=times,
        margin=margin,
        section_span=token_span(line, name),
        span=line.span(),
    )


def _place(reader: Reader, line: Line, tree: Tree) -> tuple[int, int, bool, Span] | None:
    """Read which bars are meant: the first, the last, whether up to the end, and where that is written."""
    if tree.name in ("last_place", "first_place"):
        word = tree.name.removesuffix("_place")
        start = line.statement.find(word)
        one = LAST if word == "last" else 1
        return one, one, False, line.span(start, start + len(word) + len(" bar"))
    span = tree_span(line, tree)
    numbers = [whole(token) for token in tree.tokens() if token.kind == "NUMBER"]
    if any(not one for one in numbers):
        reader.fault(
            "bad-count", span, "bars are counted from 1 in whole numbers", "write but bar 3: ..."
        )
        return None
    first, last = numbers[0] or 0, numbers[-1] or 0
    if last < first:
        hint = f"write bars {last}-{first}"
        message = f"bars {first} to {last} run backwards"
        ends = [token for token in tree.tokens() if token.kind == "NUMBER"]
        reader.fault("bad-count", span, message, hint, _swapped(line, ends, hint))
        return None
    return first, last, tree.name == "from_place", span


def _change_bars(
    reader: Reader, line: Line, margin: Margin, children: list[Any]
) -> ChangeBars | None:
    place = _place(reader, line, children[0])
    bars = read_bars(reader, line, children[1])
    if place is None:
        return None
    first, last, open_end, span = place
    return ChangeBars(
        first=first,
        last=LAST if open_end else last,
        open_end=open_end,
        bars=bars,
        margin=margin,
        place_span=span,
        span=line.span(),
    )


def _drop_bars(reader: Reader, line: Line, margin: Margin, children: list[Any]) -> DropBars | None:
    place = _place(reader, line, children[0])
    if place is None:
        return None
    first, last, open_end, span = place
    return DropBars(
        first=first,
        last=LAST if open_end else last,
        margin=margin,
        place_span=span,
        span=line.span(),
    )


def _change_pattern(
    reader: Reader, line: Line, margin: Margin, children: list[Any]
) -> ChangePattern:
    name = children[0].children[0]
    return ChangePattern(
        using=name.text, margin=margin, using_span=token_span(line, name), span=line.span()
    )


def _change_tempo(
    reader: Reader, line: Line, margin: Margin, children: list[Any]
) -> ChangeTempo | None:
    tempo = read_tempo(reader, line, children)
    return None if tempo is None else ChangeTempo(tempo=tempo, margin=margin, span=line.span())


_READERS: dict[str, Any] = {
    "entry": _entry,
    "but_bars": _change_bars,
    "but_without": _drop_bars,
    "but_using": _change_pattern,
    "but_tempo": _change_tempo,
}


def show_line(reader: Reader, line: Line, margin: Margin) -> Show | None:
    """Read a line that begins with `show`; None after noting a fault."""
    tree = reader.tree(line, "show_line")
    if tree is None:
        return None
    fields: dict[str, Any] = {"kind": tree.name.removeprefix("show_")}
    before = reader.count
    for place, child in enumerate(tree.children):
        if isinstance(child, Token):
            which = "over" if "name" in fields else "name"
            fields.update({which: child.text, f"{which}_span": token_span(line, child)})
            continue
        option = tree.node(place)
        if option.name != "bar_place":
            fields |= _speed(reader, line, option)
        elif (bars := _place(reader, line, option)) is not None:
            fields.update(first=bars[0], last=bars[1], place_span=bars[3])
    if reader.count > before:
        return None
    return Show(margin=margin, span=line.span(), **fields)


def _swapped(line: Line, ends: list[Token], title: str) -> tuple[Edit, ...]:
    """Return the edits that write two numbers the other way round."""
    pairs = zip(ends, reversed(ends), strict=True)
    return tuple(
        Edit(span=token_span(line, one), text=other.text, title=title) for one, other in pairs
    )


def _speed(reader: Reader, line: Line, tree: Tree) -> dict[str, Any]:
    """Read `at 60` or `from 60 to 96`; nothing after noting a fault."""
    speeds: list[Fraction] = [number(token) for token in tree.tokens()]
    span = tree_span(line, tree)
    if not all(TEMPOS[0] <= speed <= TEMPOS[1] for speed in speeds):
        hint = f"write quarter notes a minute, {TEMPOS[0]} to {TEMPOS[1]}"
        reader.fault(
            "bad-value", span, f"tempo {span.text} is outside {TEMPOS[0]} to {TEMPOS[1]}", hint
        )
        return {}
    if len(speeds) == 2 and speeds[1] < speeds[0]:
        ends = list(tree.tokens())
        hint = f"write from {ends[1].text} to {ends[0].text}"
        message = "a tempo ladder climbs: the first tempo is the slower one"
        reader.fault("bad-value", span, message, hint, _swapped(line, ends, hint))
        return {}
    return dict(zip(("start", "goal"), speeds, strict=False))
