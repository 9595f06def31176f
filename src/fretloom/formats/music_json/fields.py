"""What the parts of the JSON share: empty fields go, places are named."""

from __future__ import annotations

from typing import Any

from fretloom.source import Span


def filled(fields: dict[str, Any]) -> dict[str, Any]:
    """Leave out empty fields: an empty text or list, False, None, and a fret that is not there."""
    return {
        name: value
        for name, value in fields.items()
        if value not in ("", [], None) and value is not False and (name, value) != ("fret", 0)
    }


def place(span: Span | None) -> dict[str, object] | None:
    """Return where something is written."""
    if span is None:
        return None
    line, column = span.source.position(span.start)
    return {"file": span.source.name, "line": line, "column": column}
