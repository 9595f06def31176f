"""Patterns of files: `drafts`, `*.lesson`, `old/**/draft-*.lesson`.

`*` and `?` stand for signs within one name and `[ab]` for one of them, as in a shell; `**` stands for
any number of folders. A pattern that fits a folder fits all that is in it.
"""

from __future__ import annotations

from collections.abc import Sequence
from fnmatch import fnmatchcase

ANY_FOLDERS = "**"


def fits(parts: Sequence[str], pattern: str) -> bool:
    """Whether a pattern fits a path from the root, given by its parts, or a folder that it lies in."""
    wanted = [part for part in pattern.split("/") if part not in ("", ".")]
    # The places in the pattern that can be reached with the parts so far.
    places = _beside({0}, wanted)
    for part in parts:
        stayed = {at for at in places if at < len(wanted) and wanted[at] == ANY_FOLDERS}
        stepped = {
            at + 1 for at in places - stayed if at < len(wanted) and fnmatchcase(part, wanted[at])
        }
        places = _beside(stayed | stepped, wanted)
        if len(wanted) in stepped or (wanted[-1:] == [ANY_FOLDERS] and len(wanted) in places):
            return True
    return False


def _beside(places: set[int], wanted: Sequence[str]) -> set[int]:
    """Return places, with those behind each `**`, which may stand for no folder at all."""
    reached = set(places)
    for at in range(len(wanted)):
        if at in reached and wanted[at] == ANY_FOLDERS:
            reached.add(at + 1)
    return reached
