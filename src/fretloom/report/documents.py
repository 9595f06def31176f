"""The JSON documents that leave: each with the name of its format, a version and a JSON Schema.

What is only written (all but the lesson) may get new fields without a new version, and its schemas
allow them; a new version means that a field has changed its meaning or is gone. A lesson is read
back: there a field that is not known would be lost, so every new one makes a new version, from the
release of 0.1.0 on.
"""

from __future__ import annotations

import json
from typing import Any

from fretloom.errors import FretloomError
from fretloom.package_data import packaged_text
from fretloom.text import for_machines

#: Each kind of document: the version written, and where its schema stands.
DOCUMENTS: dict[str, tuple[int, str]] = {
    "findings": (1, "fretloom.report.findings"),
    "hands": (1, "fretloom.report.advice"),
    "sounds": (1, "fretloom.report.advice"),
    "voicings": (1, "fretloom.report.advice"),
    "capos": (1, "fretloom.report.advice"),
    "transposed": (1, "fretloom.report.advice"),
    "practice": (1, "fretloom.report.practice"),
    "levels": (1, "fretloom.report.easing"),
    "eased": (1, "fretloom.report.easing"),
    "music": (1, "fretloom.formats.music_json"),
    "playback": (1, "fretloom.formats.sound.playback_json"),
    "lesson": (1, "fretloom.notation.lesson_json"),
}


def document(kind: str, content: dict[str, Any]) -> dict[str, Any]:
    """Return content with the name and the version of its format before it."""
    return {"format": f"fretloom-{kind}", "version": DOCUMENTS[kind][0], **content}


def as_json_text(data: dict[str, Any]) -> str:
    """Return a document as JSON text that ends with a line end."""
    return for_machines(json.dumps(data, ensure_ascii=False, indent=2)) + "\n"


def schema(kind: str) -> dict[str, Any]:
    """Return the JSON Schema (draft 2020-12) of a kind of document.

    Raises:
        FretloomError: there is no such kind.
    """
    if kind not in DOCUMENTS:
        raise FretloomError(f"there is no schema {kind!r}; there are {', '.join(DOCUMENTS)}")
    found: dict[str, Any] = json.loads(packaged_text(DOCUMENTS[kind][1], f"{kind}.schema.json"))
    return found
