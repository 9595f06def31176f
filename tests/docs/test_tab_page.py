"""The tab on the reference page is the one that the lesson above it gives."""

from __future__ import annotations

import re
from pathlib import Path

from fretloom.api import export_tab, loads

PAGE = Path(__file__).parents[2] / "docs" / "reference" / "tab.md"


def test_the_tab_on_the_page_is_that_of_the_lesson_above_it() -> None:
    """Lesson in, tab out, as printed there."""
    blocks = dict(
        re.findall(r"^```(\w+)\n(.*?)^```$", PAGE.read_text(encoding="utf-8"), re.M | re.S)
    )
    assert export_tab(loads(blocks["lesson"])) == blocks["text"]
