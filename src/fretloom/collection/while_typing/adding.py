"""Where a line for a new voicing goes, and how it looks."""

from __future__ import annotations

from collections.abc import Iterator

from fretloom import api
from fretloom.api import Diagnostic, Edit, Source, Span
from fretloom.collection.while_typing.completing.shapes import line_of
from fretloom.collection.while_typing.hovering.shown import name_in
from fretloom.collection.while_typing.opened import OpenLesson
from fretloom.collection.while_typing.outline import outline
from fretloom.errors import FretloomError
from fretloom.files import with_ends_of
from fretloom.limits import LIMITS
from fretloom.notation.syntax.lines import split
from fretloom.trade.guitar.voicing import split_name

#: So many shapes are offered for a voicing that is missing.
_MOST = 3
#: Blocks before which no voicings stand.
_BEFORE = ("lesson", "file")


def shapes_for(opened: OpenLesson, missing: Diagnostic) -> Iterator[tuple[str, Edit]]:
    """Yield lines for a chord that has no voicing, best first, each with the edit that adds it; none for a plain name.

    Args:
        opened: the lesson.
        missing: the finding that there is no such voicing.
    """
    found = name_in(opened, missing.span.start)
    symbol = split_name(found.name)[0] if found is not None and found.kind == "voicing" else ""
    if found is None or not symbol or len(symbol) > LIMITS.word:
        return
    try:
        shapes = api.suggest_voicings(symbol, opened.examined, limit=_MOST).voicings
    except FretloomError:  # It is no chord.
        return
    for one in shapes:
        line = f"{found.name}  {line_of(one)}"
        yield line, added(opened.source, line)


def added(source: Source, line: str) -> Edit:
    """Return the edit that adds a line to the last `voicings` block of a text, or one before all that uses them."""
    entries = outline(source)
    blocks = [one for one in entries if one.kind == "block" and one.name == "voicings"]
    if blocks:
        last = blocks[-1].entries[-1].span if blocks[-1].entries else blocks[-1].name_span
        text = source.line_text(last.line)
        indent = text[: len(text) - len(text.lstrip(" \t"))] or "  "
        at = source.line_starts()[last.line - 1] + len(text)
        return _put(source, at, f"\n{indent}{line}")
    first = next((one.span.line for one in entries if one.kind not in _BEFORE), None)
    if first is not None:
        return _put(source, _above(source, first), f"voicings\n  {line}\n\n")
    end = "" if source.text.endswith(("\n", "\r")) or not source.text else "\n"
    return _put(source, len(source.text), f"{end}\nvoicings\n  {line}\n")


def _above(source: Source, number: int) -> int:
    """Return where what is put before a block goes: above the comments that are about the block."""
    lines = list(split(source))
    while number > 1 and lines[number - 2].comment and not lines[number - 2].statement:
        number -= 1
    return source.line_starts()[number - 1]


def _put(source: Source, at: int, text: str) -> Edit:
    return Edit(span=Span(source, at, at), text=with_ends_of(source.text, text))
