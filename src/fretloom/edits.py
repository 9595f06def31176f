"""Puts edits into a text. An edit is what a finding carries where the way out is one sure change."""

from __future__ import annotations

import re
from collections.abc import Iterable

from fretloom.diagnostics import Edit
from fretloom.errors import EditsDoNotFit
from fretloom.source import Span

_MARK = "\ufeff"


def apply_edits(text: str, edits: Iterable[Edit]) -> str:
    """Return the text with the edits made, whatever order they come in; the rest stays as it is.

    Equal edits count once. A byte order mark at the start of the text is kept.

    Args:
        text: the text that was checked, as a whole.
        edits: edits of one finding or of many; all of one file.

    Raises:
        EditsDoNotFit: an edit was made for another text or lies outside it, or two of them would
            change the same place in different ways; the message says which.
        TypeError: `text` is not a str, or `edits` holds something else than edits.
    """
    if not isinstance(text, str):
        raise TypeError(f"text has to be a str, not {type(text).__name__}")
    mark = _MARK if text.startswith(_MARK) else ""
    checked = text.removeprefix(mark)
    chosen: dict[tuple[int, int, str], Edit] = {}
    for edit in _all(edits):
        _check(checked, edit)
        chosen.setdefault((edit.span.start, edit.span.end, edit.text), edit)
    done, pieces, before = 0, [mark], None
    for (start, end, put), edit in sorted(chosen.items(), key=lambda one: one[0]):
        if before is not None and (start < done or start == end == before.span.start):
            message = f"{_said(before)} and {_said(edit)} would change the same place"
            raise EditsDoNotFit(message)
        pieces += (checked[done:start], put)
        done, before = end, edit
    return "".join((*pieces, checked[done:]))


def without_line(span: Span) -> tuple[Edit, ...]:
    """Return the edit that removes the line in which a span stands; none if a comment is beside it."""
    source = span.source
    text = source.line_text(span.line)
    if not 0 <= span.start < span.end or re.search(r"(?<!\S)#(?!\S)", text):
        return ()
    starts = (*source.line_starts(), len(source.text))
    line = Span(source, starts[span.line - 1], starts[source.position(span.end)[0]])
    return (Edit(span=line, text="", title="remove this line"),)


def _all(edits: Iterable[Edit]) -> list[Edit]:
    if isinstance(edits, str | bytes | Edit) or not isinstance(edits, Iterable):
        raise TypeError(f"edits has to be a list of edits, not {type(edits).__name__}")
    listed = list(edits)
    for edit in listed:
        if not isinstance(edit, Edit):
            raise TypeError(f"edits has to hold edits only, not {type(edit).__name__}")
    return listed


def _check(text: str, edit: Edit) -> None:
    span = edit.span
    if span.source.text != text:
        raise EditsDoNotFit(f"{_said(edit)} was made for another text ({span.source.name})")
    if not 0 <= span.start <= span.end <= len(text):
        place = f"{span.start} to {span.end}"
        raise EditsDoNotFit(f"{_said(edit)} lies outside the text: {place} of {len(text)}")


def _said(edit: Edit) -> str:
    line = edit.span.line if 0 <= edit.span.start <= len(edit.span.source.text) else "?"
    return f"the edit `{edit.title or edit.text[:40]}` on line {line}"
