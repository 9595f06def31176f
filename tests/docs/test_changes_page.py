"""The page of changes shows what the program draws."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import fretloom
from fretloom.engraving.drawn.change_diagram import MOST_FRETS

DOCS = Path(__file__).parents[2] / "docs"
NUMBERS = {7: "seven"}


def lesson_of(page: str) -> str:
    text = (DOCS / "reference" / page).read_text(encoding="utf-8")
    return re.findall(r"```lesson\n(.*?)```", text, re.DOTALL)[0]


def test_a_change_is_said_as_the_page_has_it() -> None:
    page = (DOCS / "reference" / "changes.md").read_text(encoding="utf-8")
    [drawn] = fretloom.export(fretloom.loads(lesson_of("changes.md")), "changes")
    said = " ".join(line.removeprefix("> ") for line in page.splitlines() if line.startswith("> "))
    assert said in drawn.text
    assert f"more than {NUMBERS[MOST_FRETS]} frets" in page


@pytest.mark.parametrize("name", ["shapes", "changes"])
def test_the_picture_on_the_page_is_of_its_lesson(name: str) -> None:
    """The same pictures with the same words; `python docs/rewrite_pictures.py drawn` draws them anew."""
    [drawn] = fretloom.export(fretloom.loads(lesson_of(f"{name}.md")), name)
    kept = (DOCS / "_static" / "drawn" / f"{name}.svg").read_text(encoding="utf-8")
    for element in ("title", "desc", "text"):
        found = re.compile(rf"<{element}[ >].*?</{element}>")
        words = [re.sub(r"<[^>]*>", "", one) for one in found.findall(drawn.text)]
        assert [re.sub(r"<[^>]*>", "", one) for one in found.findall(kept)] == words
