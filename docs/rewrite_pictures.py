"""Draws the pictures of docs/reference/scores.md anew: the first page of each example.

Run it when the examples or the drawing have changed, with the extra `pictures` installed, and look at what
has changed before keeping it:

    python docs/rewrite_pictures.py
"""

from __future__ import annotations

import sys
from pathlib import Path

import fretloom

PROJECT = Path(__file__).parents[1]
EXAMPLES = PROJECT / "examples"
PICTURES = PROJECT / "docs" / "_static" / "scores"


def main() -> None:
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
