"""Findings as JSON, for programs; `findings.schema.json` beside this module describes it.

Lines and columns are 1-based and count code points, `offset` is 0-based; ends are exclusive.
A new `version` means that a field has changed its meaning or is gone; a new field does not need
one.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from fretloom.diagnostics import Diagnostic
from fretloom.source import Span

VERSION = 1


def finding(found: Diagnostic) -> dict[str, Any]:
    """Return one finding as JSON values."""
    return {
        "file": found.span.source.name,
        "rule": found.rule,
        "severity": found.severity.value,
        "message": found.message,
        "hint": found.hint,
        **_place(found.span),
        "music_undefined": found.music_undefined,
        "related": [
            {"file": one.span.source.name, "message": one.message, **_place(one.span)}
            for one in found.related
        ],
        "edits": [
            {"title": edit.title, "text": edit.text, **_place(edit.span)} for edit in found.edits
        ],
    }


def report(
    findings: Iterable[dict[str, Any]], files: int, unreadable: Iterable[dict[str, str]] = ()
) -> str:
    """Return the whole report; `unreadable` names files that could not be read, and why."""
    content = {
        "version": VERSION,
        "files": files,
        "findings": list(findings),
        "unreadable": list(unreadable),
    }
    return json.dumps(content, ensure_ascii=False, indent=2) + "\n"


def _place(span: Span) -> dict[str, Any]:
    return {"start": _point(span, span.start), "end": _point(span, span.end)}


def _point(span: Span, offset: int) -> dict[str, int]:
    line, column = span.source.position(offset)
    return {"line": line, "column": column, "offset": offset}
