"""Which files a text names, seen without reading it as a lesson; what only looks like a name of one does no harm."""

from __future__ import annotations

import re

#: Also where the marks of the name are missing or are other ones: the line is a fault, and says what is meant.
_LINKS = re.compile(
    r"^[ \t]*(?:use|based[ \t]+on)\b[ \t:]*"
    r"(?:\"([^\"\r\n]*)\"|[\"'\u2018-\u201f\u00ab\u00bb]?([^\"'\u2018-\u201f\u00ab\u00bb\r\n]*))",
    re.M,
)


def files_in_text(text: str) -> list[str]:
    """Return what stands behind `use` and `based on` in a text, as written."""
    found = (quoted or bare.partition("#")[0].strip() for quoted, bare in _LINKS.findall(text))
    return [name for name in found if name and "\0" not in name]
