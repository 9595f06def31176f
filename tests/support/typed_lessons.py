"""Lessons in the middle of being typed: texts in which ^ marks the place of the hand."""

from __future__ import annotations

from pathlib import Path

from fretloom.collection.while_typing.opened import OpenLesson, SettledHere, opened

MARK = "^"


def typed(
    marked: str,
    file: Path | str = "typed.lesson",
    others: dict[Path, str] | None = None,
    settled: SettledHere | None = None,
) -> tuple[OpenLesson, int]:
    """Return a lesson and the offset of the mark in it, or of its end; the mark is not part of the text."""
    path = Path(file).absolute()
    at = marked.find(MARK)
    text = marked.replace(MARK, "", 1)
    settled = settled or SettledHere(path.parent)
    return opened(path, text, others or {}, settled), at if at >= 0 else len(text)
