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
    folder = resolved(opened.file).parent
    names = islice(_below(resolved(opened.settled.root)), LIMITS.files)
    for file in names:
        if file != resolved(opened.file):
            text = os.path.relpath(file, folder).replace(os.sep, "/")
            yield Continuation(text=text, kind="file", rank=text.count("/") + text.startswith(".."))


def _below(root: Path) -> Iterator[Path]:
    for place, folders, names in islice(os.walk(root), _MOST_FOLDERS):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        for name in sorted(names):
            if name.endswith(".lesson") and name.isprintable() and '"' not in name:
                yield Path(place, name)
