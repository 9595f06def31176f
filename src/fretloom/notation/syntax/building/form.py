"""Lines of the `form` block and of steps to the model."""

from __future__ import annotations

from fractions import Fraction
from typing import Any, cast

from fretloom.diagnostics import Edit
from fretloom.notation.model.form import (
    LAST,
    But,
    ChangeBars,
    ChangeDynamic,
    ChangePattern,
    ChangeTempo,
    ChangeWords,
    DropBars,
    DynamicRun,
    FormEntry,
    KeepBars,
    TempoRun,
    WithoutRepeats,
)
from fretloom.notation.model.limits import TEMPOS
from fretloom.notation.model.margin import Margin, Unread
from fretloom.notation.model.step import Show
from fretloom.notation.syntax.building.bars import read_bars
from fretloom.notation.syntax.building.expression import (
    dynamic_of,
    read_verse,
    speed_ramp,
    swell,
)
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
    counted_back = tree.name == "last_place" and bool(tree.children)
    if tree.name in ("last_place", "first_place") and not counted_back:
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
    if counted_back:
        return (
            -first,
            LAST,
            False,
            line.span(span.start - line.start - len("last "), span.end - line.start),
        )
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


def _run(reader: Reader, line: Line, tree: Tree) -> dict[str, Any] | None:
    """Read a run of bars as the fields that say which; None after noting a fault."""
    place = _place(reader, line, tree)
    if place is None:
        return None
    first, last, open_end, span = place
    return {"first": first, "last": LAST if open_end else last, "place_span": span}


def _drop_bars(reader: Reader, line: Line, margin: Margin, children: list[Any]) -> DropBars | None:
    run = _run(reader, line, children[0])
    return None if run is None else DropBars(margin=margin, span=line.span(), **run)


def _keep_bars(reader: Reader, line: Line, margin: Margin, children: list[Any]) -> KeepBars | None:
    run = _run(reader, line, children[0])
    return None if run is None else KeepBars(margin=margin, span=line.span(), **run)


def _optional_run(
    reader: Reader, line: Line, children: list[Any]
) -> tuple[dict[str, Any] | None, list[Any]]:
    """Read a run of bars if one stands first; also return what follows it."""
    if isinstance(children[0], Tree) and children[0].name.endswith("_place"):
        return _run(reader, line, children[0]), children[1:]
    return {}, children


def _change_pattern(
    reader: Reader, line: Line, margin: Margin, children: list[Any]
) -> ChangePattern | None:
    run, rest = _optional_run(reader, line, children)
    name = rest[0].children[0]
    if run is None:
        return None
    span = token_span(line, name)
    return ChangePattern(using=name.text, margin=margin, using_span=span, span=line.span(), **run)


def _change_tempo(
    reader: Reader, line: Line, margin: Margin, children: list[Any]
) -> ChangeTempo | None:
    run, rest = _optional_run(reader, line, children)
    tempo = read_tempo(reader, line, rest)
    if tempo is None or run is None:
        return None
    return ChangeTempo(tempo=tempo, margin=margin, span=line.span(), **run)


def _change_dynamic(
    reader: Reader, line: Line, margin: Margin, children: list[Any]
) -> ChangeDynamic | None:
    run, rest = _optional_run(reader, line, children)
    if run is None:
        return None
    return ChangeDynamic(dynamic=dynamic_of(rest[0]), margin=margin, span=line.span(), **run)


def _tempo_run(reader: Reader, line: Line, margin: Margin, children: list[Any]) -> TempoRun | None:
    tempo = read_tempo(reader, line, children[1:-1])
    run = _run(reader, line, children[-1])
    if tempo is None or run is None:
        return None
    kind = speed_ramp(children[0])
    return TempoRun(kind=kind, tempo=tempo, margin=margin, span=line.span(), **run)


def _dynamic_run(
    reader: Reader, line: Line, margin: Margin, children: list[Any]
) -> DynamicRun | None:
    run = _run(reader, line, children[-1])
    if run is None:
        return None
    kind, dynamic = swell(children[0]), dynamic_of(children[1])
    return DynamicRun(kind=kind, dynamic=dynamic, margin=margin, span=line.span(), **run)


def _without_repeats(
    reader: Reader, line: Line, margin: Margin, children: list[Any]
) -> WithoutRepeats:
    return WithoutRepeats(margin=margin, span=line.span())


def _change_words(
    reader: Reader, line: Line, margin: Margin, children: list[Any]
) -> ChangeWords | None:
    verse = read_verse(reader, line, children[0])
    return None if verse is None else ChangeWords(verse=verse, margin=margin, span=line.span())


_READERS: dict[str, Any] = {
    "entry": _entry,
    "but_bars": _change_bars,
    "but_without": _drop_bars,
    "but_using": _change_pattern,
    "but_tempo": _change_tempo,
    "but_dynamic": _change_dynamic,
    "but_tempo_ramp": _tempo_run,
    "but_dynamic_ramp": _dynamic_run,
    "but_only": _keep_bars,
    "but_without_repeats": _without_repeats,
    "but_words": _change_words,
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
