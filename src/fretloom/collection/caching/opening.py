"""Whether results are kept, and where."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from fretloom.collection.caching.store import Store, can_keep, default_folder
from fretloom.collection.checking import Task
from fretloom.collection.sharing import MANY_FILES


def opened_store(tasks: Sequence[Task], folder: str | None, never: bool) -> Store | None:
    """Return the results of earlier checks; None if none are kept.

    Args:
        tasks: what is to be checked. folder: where the caller wants results kept; without it they
            are kept where the system has such things, if there are many files.
        never: keep none.
    """
    if never or not tasks or not can_keep():
        return None
    if folder:
        return Store(Path(folder), tasks[0].root)
    usual = default_folder() if len(tasks) >= MANY_FILES else None
    return Store(usual, tasks[0].root) if usual is not None else None
