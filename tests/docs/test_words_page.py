"""The page of the lesson in words shows what the program says."""

from __future__ import annotations

import re
from pathlib import Path

import fretloom

PAGE = Path(__file__).parents[2] / "docs" / "reference" / "words.md"


def test_the_changes_on_the_page_are_what_comes_out():
    page = PAGE.read_text(encoding="utf-8")
    [text] = re.findall(r"```lesson\n(.*?)```", page, re.DOTALL)
    [output] = fretloom.export(fretloom.loads(text), "words")
    rows = re.findall(r"^\| (\S+ to \S+) \| (.*) \|$", page, re.MULTILINE)
    assert len(rows) == 3
    for title, words in rows:
        assert f"### {title}\n\n{words}\n" in output.text
