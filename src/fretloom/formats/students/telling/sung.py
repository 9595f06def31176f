"""The words of the song as a book has them."""

from __future__ import annotations

import re
from collections.abc import Iterable

from fretloom.characters import nothing_hidden

#: A hyphen within a word divides its syllables in a lesson; there is no telling it from any other.
_DIVIDED = re.compile(r"(?<=\w)-+ ?(?=\w)")


def as_written(texts: Iterable[str]) -> str:
    """Return what is sung in some bars as it is written in a book: syllables are not divided."""
    return _DIVIDED.sub("", " ".join(filter(None, map(nothing_hidden, texts))))
