"""Makes the sure changes of many lessons; only files with such findings are opened again."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from fretloom.collection.caching.store import Store
from fretloom.collection.checking import check_all
from fretloom.collection.choosing.chosen import Chosen
from fretloom.collection.choosing.selecting import Selection
from fretloom.collection.mending.fixing import fix_file
from fretloom.errors import LessonUnreadable, NotWritten
from fretloom.values import frozen


@frozen
class MendedFile:
    """How many findings of a file were mended and how many refused, or why it could not be written."""

    name: str
    made: int = 0
    refused: int = 0
    failure: str = ""


def fix_all(
    chosen: Chosen, selection: Selection, store: Store | None, jobs: int | None
) -> Iterator[MendedFile]:
    """Yield what became of each file with findings that carry sure changes and are asked for."""
    checked = list(check_all(chosen.tasks, jobs, store=store))
    if store is not None:
        store.save()
    for task, one, settled in zip(chosen.tasks, checked, chosen.configurations, strict=True):
        wanted = partial(selection.wanted, configuration=settled)
        if any(found.edits for found in wanted(one.findings)):
            try:
                mended = fix_file(task.name, task.root, wanted)
                yield MendedFile(task.name, mended.made, mended.refused)
            except (LessonUnreadable, NotWritten) as error:
                yield MendedFile(task.name, failure=str(error))
