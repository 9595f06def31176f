"""Findings as JSON values; `findings.schema.json` beside this module describes them.

Lines and columns are 1-based and count code points, `offset` is 0-based; ends are exclusive. `utf16`
is the same place as editors count (Language Server Protocol 3.17, `Position`).
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from fretloom.diagnostics import Diagnostic
from fretloom.source import Source, Span


def finding_data(found: Diagnostic) -> dict[str, Any]:
    """Return one finding."""
    return {
        "file": found.span.source.name,
        "rule": found.rule,
        "severity": found.severity.value,
        "message": found.message,
        "hint": found.hint,
        **_place(found.span),
        "fingerprint": found.fingerprint,
        "music_undefined": found.music_undefined,
        "related": [
            {"file": one.span.source.name, "message": one.message, **_place(one.span)}
            for one in found.related
        ],
        "edits": [
            {
                "file": edit.span.source.name,
                "title": edit.title,
                "text": edit.text,
                **_place(edit.span),
            }
            for edit in found.edits
        ],
    }


def findings_data(found: Iterable[Diagnostic]) -> dict[str, Any]:
    """Return findings as one object."""
    return {"findings": [finding_data(one) for one in found]}


def report_data(
    findings: Iterable[dict[str, Any]], files: int, unreadable: Iterable[dict[str, str]]
) -> dict[str, Any]:
    """Return what was found in `files` files; `unreadable` names those that could not be read, and why."""
    return {"files": files, "findings": list(findings), "unreadable": list(unreadable)}


def _place(span: Span) -> dict[str, Any]:
    return {"start": _point(span.source, span.start), "end": _point(span.source, span.end)}


def _point(source: Source, offset: int) -> dict[str, Any]:
    line, column = source.position(offset)
    utf16 = dict(zip(("line", "character"), source.utf16_position(offset), strict=True))
    return {"line": line, "column": column, "offset": offset, "utf16": utf16}
