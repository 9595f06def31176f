"""Names for the files of a format that writes one for each picture."""

from __future__ import annotations

import re
from collections.abc import Iterable


def endings(names: Iterable[str], ending: str) -> list[str]:
    """Return a different end of a file name for each name: `-C-sharp-m7.shapes.svg`.

    They have no signs that a file system may refuse, and differ in more than capital letters.
    """
    used: set[str] = set()
    found = []
    for name in names:
        plain = name.replace("#", "-sharp-").replace("/", "-over-")
        word = re.sub(r"[^0-9A-Za-z.]+", "-", plain).strip("-.")[:80] or "shape"
        number, different = 1, word
        while different.casefold() in used:
            number += 1
            different = f"{word}-{number}"
        used.add(different.casefold())
        found.append(f"-{different}{ending}")
    return found
