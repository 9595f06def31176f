"""Writes the expected tab beside each lesson of this folder anew; look at the diff before you commit it."""

from __future__ import annotations

from pathlib import Path

from expanding import expand

from fretloom.formats.tab.options import TabOptions
from fretloom.formats.tab.page import to_tab
from fretloom.notation.syntax.read import read
from fretloom.source import Source

FOLDER = Path(__file__).parent / "golden"
#: Lessons that are not written on a page of 78 columns with each section once.
OPTIONS = {stem: TabOptions(width=60, unrolled=True) for stem in ("unrolled", "played-through")}


def written(path: Path) -> str:
    """Return the tab of a lesson file."""
    lesson = read(Source(path.name, path.read_text(encoding="utf-8")))
    assert not lesson.faults
    expansion = expand(lesson)
    assert not [one for one in expansion.diagnostics if one.severity.value == "error"]
    return to_tab(expansion.timeline, OPTIONS.get(path.stem, TabOptions()))


if __name__ == "__main__":
    for lesson in sorted(FOLDER.glob("*.lesson")):
        lesson.with_suffix(".txt").write_text(written(lesson), encoding="utf-8")
