"""On which line of a TOML text a key stands, which the reader of the standard library does not say.

It goes by the lines that open tables and set keys, for messages only: a key in an inline table is
found at the line of the table.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

_TABLE = re.compile(r"\s*\[\[?([^\[\]]*)\]\]?\s*(?:#.*)?$")
_ONE = r"(?:[\w-]+|\"[^\"]*\"|'[^']*')"
_KEY = re.compile(rf"\s*({_ONE}(?:\s*\.\s*{_ONE})*)\s*=")
_PART = re.compile(_ONE)


def line_of(text: str, keys: Sequence[str], value: str = "") -> int:
    """Return the 1-based line of a key, given with those of the tables around it.

    Args:
        text: of the file.
        keys: from the outermost table on.
        value: a text in the value of the key; its line is returned if it is found there.
    """
    wanted, best, line = tuple(keys), 0, 1
    for number, path in _keys(text):
        alike = len(path) if wanted[: len(path)] == path else 0
        if alike > best:
            best, line = alike, number
    if value:
        lines = text.splitlines()
        quoted = (f'"{value}"', f"'{value}'")
        for number in range(line, len(lines) + 1):
            if any(one in lines[number - 1] for one in quoted):
                return number
    return line


def _keys(text: str) -> Iterator[tuple[int, tuple[str, ...]]]:
    """Yield each line that opens a table or sets a key, and the whole path of it."""
    table: tuple[str, ...] = ()
    for number, line in enumerate(text.splitlines(), 1):
        if opened := _TABLE.match(line):
            table = _parts(opened[1])
            yield number, table
        elif key := _KEY.match(line):
            yield number, (*table, *_parts(key[1]))


def _parts(written: str) -> tuple[str, ...]:
    return tuple(part.strip("\"'") for part in _PART.findall(written))
