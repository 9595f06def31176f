"""Draws the pictures of the documentation anew: the first page of each example, and what students see.

Run it when the examples or the drawing have changed, with the extra `pictures` installed, and look at what
has changed before keeping it (`drawn` alone needs no extra):

    python docs/rewrite_pictures.py [drawn]
"""

from __future__ import annotations

import re
import sys
from pathlib import Path

import fretloom

PROJECT = Path(__file__).parents[1]
EXAMPLES = PROJECT / "examples"
PICTURES = PROJECT / "docs" / "_static" / "scores"
DRAWN = PROJECT / "docs" / "_static" / "drawn"
#: Pages whose first lesson stands on them as drawn by the format of the page's name.
DRAWN_PAGES = ("shapes", "changes")


def main() -> None:
    """Draw what was asked for."""
    draw_pages()
    if sys.argv[1:] != ["drawn"]:
        draw_scores()


def draw_pages() -> None:
    """Draw the first lesson of each page that shows one."""
    DRAWN.mkdir(exist_ok=True)
    for name in DRAWN_PAGES:
        page = (PROJECT / "docs" / "reference" / f"{name}.md").read_text(encoding="utf-8")
        lesson = re.search(r"```lesson\n(.*?)```", page, re.DOTALL)
        assert lesson is not None, name
        first, *_ = fretloom.export(fretloom.loads(lesson[1]), name)
        fretloom.write(DRAWN / f"{name}.svg", first.content)


def draw_scores() -> None:
    """Draw the first page of each example, and drop the pictures of examples that are gone."""
    PICTURES.mkdir(exist_ok=True)
    names = {file.stem for file in EXAMPLES.glob("*.lesson")}
    for old in PICTURES.glob("*.svg"):
        if old.stem not in names:
            old.unlink()
    for name in sorted(names):
        first, *_ = fretloom.export(fretloom.load(EXAMPLES / f"{name}.lesson"), "svg")
        fretloom.write(PICTURES / f"{name}.svg", first.content)
        sys.stdout.write(f"{name}.svg: {len(first.data) // 1000} kB\n")


if __name__ == "__main__":
    main()
