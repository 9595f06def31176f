"""The page of chord diagrams shows what the program writes."""

from __future__ import annotations

import re
from pathlib import Path

import fretloom

PAGE = Path(__file__).parents[2] / "docs" / "reference" / "shapes.md"


def test_the_example_is_what_comes_out():
    """The lesson on the page, in plain text, without title and legend; and its B7 as it is said."""
    page = PAGE.read_text(encoding="utf-8")
    [(text, shown)] = re.findall(r"```lesson\n(.*?)```.*?```text\n(.*?)```", page, re.DOTALL)
    lesson = fretloom.loads(text)
    [output] = fretloom.export(lesson, "shapes-text")
    assert output.text.split("\n\n", 2)[2].rstrip() == shown.rstrip()
    [drawn] = fretloom.export(lesson, "shapes")
    said = " ".join(line.removeprefix("> ") for line in page.splitlines() if line.startswith("> "))
    assert said in drawn.text
