"""What a renaming changes, as a unified diff: what `diff -u` writes and `patch` reads (POSIX.1-2017)."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from difflib import unified_diff

from fretloom.collection.naming.asked import shown_path
from fretloom.collection.naming.renaming import RenamedFile
from fretloom.text import shown_name

_LINE = re.compile(r"[^\r\n]*(?:\r\n|\r|\n)|[^\r\n]+$")
_NO_END = "\\ No newline at end of file\n"


def as_diff(files: Iterable[RenamedFile]) -> str:
    """Return the differences of files, one after the other; lines end as they do in the files."""
    return "".join(piece for one in files for piece in _of_file(one))


def _of_file(one: RenamedFile) -> Iterator[str]:
    name = shown_name(shown_path(one.path).as_posix())
    for line in unified_diff(_lines(one.old), _lines(one.new), f"a/{name}", f"b/{name}"):
        yield line
        if not line.endswith(("\n", "\r")):
            yield f"\n{_NO_END}"


def _lines(text: str) -> list[str]:
    return _LINE.findall(text)
