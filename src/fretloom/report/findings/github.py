"""Findings as workflow commands, which GitHub shows beside the lines of a change.

Escapes follow GitHub's documentation of workflow commands: `%`, CR and LF everywhere, `:` and `,`
in properties too.
"""

from __future__ import annotations

from fretloom.diagnostics import Diagnostic
from fretloom.rule_facts import Severity
from fretloom.text import visible_signs

_COMMANDS = {Severity.ERROR: "error", Severity.WARNING: "warning", Severity.INFO: "notice"}
_ESCAPES = {"%": "%25", "\r": "%0D", "\n": "%0A"}


def annotation(found: Diagnostic) -> str:
    """Return one finding as a workflow command, a single line without its end."""
    span = found.span
    end_line, end_column = span.source.position(max(span.start, span.end))
    properties = {
        "file": span.source.name,
        "line": str(span.line),
        "endLine": str(end_line),
        "col": str(span.column),
        "endColumn": str(end_column),
        "title": found.rule,
    }
    # A range of columns is only allowed within one line.
    if end_line != span.line:
        del properties["col"], properties["endColumn"]
    written = ",".join(f"{name}={_property(value)}" for name, value in properties.items())
    text = found.message + (f"\n{found.hint}" if found.hint else "")
    return f"::{_COMMANDS[found.severity]} {written}::{_data(text)}"


def _data(text: str) -> str:
    """Escape a text; what nobody sees is shown as a sign, for logs end on terminals."""
    shown = visible_signs(text)
    return "".join(_ESCAPES.get(one, sign) for one, sign in zip(text, shown, strict=True))


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")
