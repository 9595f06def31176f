"""Draws the pictures of the documentation anew: the first page of each example, and what students see.

Run it when the examples or the drawing have changed, with the extra `pictures` installed, and look at what
has changed before keeping it (`drawn` alone needs no extra):

    python docs/rewrite_pictures.py [drawn | handouts]

`handouts` draws the first pages of the gallery; it needs the extra `paper`, pillow and poppler's `pdftoppm`.
"""

from __future__ import annotations

import re
import subprocess
import sys
import tempfile
from pathlib import Path

import fretloom

PROJECT = Path(__file__).parents[1]
EXAMPLES = PROJECT / "examples"
PICTURES = PROJECT / "docs" / "_static" / "scores"
HANDOUTS = PROJECT / "docs" / "_static" / "handouts"
DRAWN = PROJECT / "docs" / "_static" / "drawn"
#: Pages whose first lesson stands on them as drawn by the format of the page's name.
DRAWN_PAGES = ("shapes", "changes")


def main() -> None:
    """Draw what was asked for."""
    if sys.argv[1:] == ["handouts"]:
        draw_handouts()
        return
    draw_pages()
    if sys.argv[1:] != ["drawn"]:
        draw_scores()


def draw_handouts() -> None:
    """Draw the first page of each example's handout in few shades, so that the pictures are small."""
    from PIL import Image

    HANDOUTS.mkdir(exist_ok=True)
    files = sorted(EXAMPLES.glob("*.lesson"))
    for old in HANDOUTS.glob("*.png"):
        if old.stem not in {file.stem for file in files}:
            old.unlink()
    with tempfile.TemporaryDirectory() as folder:
        page = Path(folder, "page")
        for file in files:
            (made,) = fretloom.export(fretloom.load(file, root=EXAMPLES), "handout-pdf")
            page.with_suffix(".pdf").write_bytes(made.data)
            given = ["pdftoppm", "-r", "84", "-l", "1", "-singlefile", "-png"]
            subprocess.run([*given, str(page.with_suffix(".pdf")), str(page)], check=True)
            picture = Image.open(page.with_suffix(".png")).convert("RGB").quantize(64)
            picture.save(HANDOUTS / f"{file.stem}.png", optimize=True)


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
