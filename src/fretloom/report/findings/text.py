"""Findings as text for a terminal: place, message, the line with a caret, and the hint.

Text from a lesson is shown, never obeyed; carets stand under it whatever it is made of; of very
long lines only the part at fault is shown.
"""

from __future__ import annotations

from collections.abc import Iterable

from fretloom.diagnostics import Diagnostic
from fretloom.rule_facts import Severity
from fretloom.source import Span
from fretloom.text import OBEYED, columns, counted, shown_name, visible, visible_signs

_COLOURS = {Severity.ERROR: "31;1", Severity.WARNING: "33;1", Severity.INFO: "36;1"}
_MARGIN = "    "
_WINDOW = 100
_LEAD = 40


def render(found: Diagnostic, colour: bool = False) -> str:
    """Return one finding as lines of text, without a line end after the last."""
    span = found.span
    word = _paint(found.severity.value, _COLOURS[found.severity], colour)
    place = _paint(f"{shown_name(span.source.name)}:{span.line}:{span.column}:", "1", colour)
    lines = [f"{place} {word}: {visible(found.message)} [{found.rule}]"]
    shown, carets = excerpt(span)
    if shown.strip():
        # What runs workflows obeys lines that begin with these signs, wherever they come from.
        margin = "  | " if shown.lstrip().startswith(OBEYED) else _MARGIN
        lines += [margin + shown, _MARGIN + _paint(carets, _COLOURS[found.severity], colour)]
    if found.hint:
        lines.append(f"{_MARGIN}hint: {visible(found.hint)}")
    for related in found.related:
        where = f"line {related.span.line}"
        if related.span.source is not span.source:
            where = f"{shown_name(related.span.source.name)}, {where}"
        lines.append(f"{_MARGIN}see {where}: {visible(related.message)}")
    return "\n".join(lines)


def findings_text(found: Iterable[Diagnostic]) -> str:
    """Return findings as text, an empty line between them; "" if there are none."""
    shown = "\n\n".join(map(render, found))
    return f"{shown}\n" if shown else ""


def summary(severities: Iterable[Severity], files: int) -> str:
    """Return the last line: how many findings in how many files."""
    found = list(severities)
    names = {Severity.ERROR: "error", Severity.WARNING: "warning", Severity.INFO: "remark"}
    amounts = {name: found.count(severity) for severity, name in names.items()}
    said = [counted(amount, name) for name, amount in amounts.items() if amount]
    if not amounts["error"] and not amounts["warning"]:
        said.insert(0, "no errors")
    return f"{', '.join(said)} in {counted(files, 'file')}"


def excerpt(span: Span) -> tuple[str, str]:
    """Return the line a span starts on as it can be shown, and the carets under the span."""
    line, column = span.source.position(span.start)
    text = span.source.line_text(line)
    first = column - 1
    last = max(first + 1, min(len(text), first + span.end - span.start))
    begin = max(0, first - _LEAD) if len(text) > _WINDOW else 0
    end = min(len(text), begin + _WINDOW)
    before, after = "…" if begin else "", "…" if end < len(text) else ""
    signs = visible_signs(text[begin:end])
    shown = before + "".join(signs) + after
    lead = len(before) + columns("".join(signs[: first - begin]))
    marked = columns("".join(signs[first - begin : last - begin]))
    return shown.rstrip(), " " * lead + "^" * max(1, marked)


def _paint(text: str, code: str, colour: bool) -> str:
    return f"\x1b[{code}m{text}\x1b[0m" if colour else text
