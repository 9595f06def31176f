"""Lines of the heading to settings of the model, and values that other lines have too."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import cast

from fretloom.diagnostics import Edit
from fretloom.errors import SymbolError
from fretloom.notation.model.heading import Setting, SettingName
from fretloom.notation.model.margin import Margin
from fretloom.notation.model.words import OPENERS
from fretloom.notation.syntax.fields import values
from fretloom.notation.syntax.fields.table import FIELDS
from fretloom.notation.syntax.fields.values import BadValue, Given
from fretloom.notation.syntax.lines import Line
from fretloom.notation.syntax.parsing.tree import Token
from fretloom.notation.syntax.reader import Reader, tree_span
from fretloom.source import Span
from fretloom.trade.music.meter import Meter
from fretloom.trade.music.tempo import Tempo


def setting(reader: Reader, line: Line, margin: Margin) -> Setting | None:
    """Read one line of the heading; None after noting a fault."""
    tree = reader.tree(line, "setting_line")
    if tree is None:
        return None
    span = tree_span(line, tree)
    value = FIELDS[tree.name].read(Given(span.text, tuple(tree.tokens()), reader.naming))
    if isinstance(value, BadValue):
        _note(reader, span, value)
        return None
    return Setting(
        name=cast("SettingName", tree.name),
        value=value,
        margin=margin,
        value_span=span,
        span=line.span(),
    )


def read_meter(reader: Reader, line: Line, tokens: Sequence[Token]) -> Meter | None:
    """Read a meter and the number it is counted in, if there is one; None after noting a fault."""
    meter = values.meter(tokens)
    if isinstance(meter, BadValue):
        _note(reader, line.span(tokens[0].start, tokens[-1].end), meter)
        return None
    return meter


def read_tempo(reader: Reader, line: Line, tokens: Sequence[Token]) -> Tempo | None:
    """Read a tempo and the note it counts; None after noting a fault."""
    tempo = values.tempo(tokens)
    if isinstance(tempo, BadValue):
        _note(reader, line.span(tokens[0].start, tokens[-1].end), tempo)
        return None
    return tempo


def _note(reader: Reader, span: Span, bad: BadValue) -> None:
    """Note a wrong value, at the part of it that is wrong."""
    end = span.end if bad.end is None else span.start + bad.end
    start = min(span.start + bad.start, max(end - 1, span.start))
    place = Span(span.source, start, end)
    edits = (Edit(span=place, text=bad.meant, title=f"write {bad.meant}"),) if bad.meant else ()
    reader.fault("bad-value", place, bad.message, bad.hint, edits)


def naming_of(lines: list[Line]) -> str:
    """Return how the lesson names notes, found first because it changes how names are read."""
    for line in _of_heading(lines):
        words = line.statement.split()
        if len(words) == 2 and words[0] == "names":
            return words[1] if words[1] in ("german", "romance") else "english"
    return "english"


def _of_heading(lines: list[Line]) -> Iterator[Line]:
    """Yield the indented lines that stand in no other block than the heading."""
    other = False
    for line in lines:
        if line.indented and not other:
            yield line
        elif not line.indented and line.statement:
            other = line.word.rstrip(":") in OPENERS and line.word != "lesson"


def strings_of(lines: list[Line]) -> int | None:
    """Return how many strings the tuning has, found first; None if this file does not decide that."""
    if not any(not line.indented and line.word == "lesson" for line in lines):
        return None
    for line in _of_heading(lines):
        if line.statement.startswith("based on"):
            return None
        if line.word == "tuning":
            from fretloom.trade.guitar.tunings import parse_tuning

            try:
                return parse_tuning(" ".join(line.statement.split()[1:])).strings
            except SymbolError:
                return None
    return 6
