"""The lesson files that a line can name, by their paths from the file that is being typed."""

from __future__ import annotations

import os
from collections.abc import Iterator
from itertools import islice
from pathlib import Path

from fretloom.collection.configuration.finding import resolved
from fretloom.collection.while_typing.completing.continuation import Continuation
from fretloom.collection.while_typing.opened import OpenLesson
from fretloom.limits import LIMITS

#: So many folders are looked into.
_MOST_FOLDERS = 200


def file_offers(opened: OpenLesson) -> Iterator[Continuation]:
    """Yield the lessons of the collection, as `use` and `based on` name them; no more than can be read for one."""
    file = resolved(opened.file)
    folders = islice(_outwards(file.parent, resolved(opened.settled.root)), _MOST_FOLDERS)
    there = (Path(place, name) for place, names in folders for name in names)
    for one in islice(there, LIMITS.files):
        if one != file:
            text = os.path.relpath(one, file.parent).replace(os.sep, "/")
            yield Continuation(text=text, kind="file", rank=text.count("/") + text.startswith(".."))


def _outwards(folder: Path, root: Path) -> Iterator[tuple[str, list[str]]]:
    """Yield the folders of a collection with their lessons: those in a folder, in the one around it, and so on.

    So those nearby are found however large the collection is.
    """
    done: Path | None = None
    places = [folder, *folder.parents] if folder.is_relative_to(root) else [root]
    for top in places:
        yield from _below(top, done)
        if top == root:
            return
        done = top


def _below(top: Path, done: Path | None) -> Iterator[tuple[str, list[str]]]:
    for place, folders, names in os.walk(top):
        folders[:] = sorted(
            one for one in folders if not one.startswith(".") and Path(place, one) != done
        )
        yield place, sorted(name for name in names if _is_lesson(name))


def _is_lesson(name: str) -> bool:
    return name.endswith(".lesson") and name.isprintable() and '"' not in name
