"""Every lesson that people are shown: the examples, those on the pages of the documentation, and those of the rules."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from places import EXAMPLES, PROJECT, SOURCE

_BLOCK = re.compile(r"^```(?:lesson(?: \S+)?|lesson-part|fretloom)\n(.*?)^```", re.M | re.S)


@cache
def shown_lessons() -> dict[str, str]:
    """Return each by where it stands: the file, and for pages the line of its first word."""
    return dict(_all())


def _all() -> Iterator[tuple[str, str]]:
    for file in sorted(EXAMPLES.rglob("*.lesson")):
        yield str(file.relative_to(PROJECT)), file.read_text(encoding="utf-8")
    docs = PROJECT / "docs"
    pages = [
        PROJECT / "README.md",
        *(docs / one for one in ("explanation", "howto", "reference", "tutorial")),
    ]
    pages = [
        file for one in pages for file in (sorted(one.glob("*.md")) if one.is_dir() else [one])
    ]
    for page in [*pages, *sorted(SOURCE.rglob("page.md"))]:
        text = page.read_text(encoding="utf-8")
        for found in _BLOCK.finditer(text):
            line = text.count("\n", 0, found.start(1)) + 1
            yield f"{page.relative_to(PROJECT)}:{line}", found[1]
