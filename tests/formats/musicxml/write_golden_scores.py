"""Writes the golden scores anew; look at the difference before keeping it.

python tests/formats/musicxml/write_golden_scores.py
"""

from __future__ import annotations

import re
from pathlib import Path

from expanding import expand
from writing_scores import to_musicxml

from fretloom.notation.syntax.read import read
from fretloom.source import Source

GOLDEN = Path(__file__).parent / "golden"
#: How some of them are exported; the others without any option.
OPTIONS: dict[str, dict[str, str]] = {
    "tab-alone": {"layout": "tab"},
    "two-parts": {"layout": "two-parts"},
}


def score_of(name: str) -> bytes:
    """Return the score of a golden lesson, without the version of the program."""
    text = (GOLDEN / f"{name}.lesson").read_text(encoding="utf-8")
    data = to_musicxml(
        expand(read(Source(name, text))).timeline, **{"form": "folded"} | OPTIONS.get(name, {})
    )
    return re.sub(rb"<software>fretloom [^<]*</software>", b"<software>fretloom</software>", data)


if __name__ == "__main__":
    for lesson in GOLDEN.glob("*.lesson"):
        lesson.with_suffix(".musicxml").write_bytes(score_of(lesson.stem))
