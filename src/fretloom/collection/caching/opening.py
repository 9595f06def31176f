"""Whether results are kept, and where; what keeps them is only imported then."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from fretloom.collection.checking import Task
from fretloom.collection.sharing import MANY_FILES
from fretloom.extensions import RULES, offers

if TYPE_CHECKING:
    from fretloom.collection.caching.store import Store


def opened_store(tasks: Sequence[Task], folder: str | None, never: bool) -> Store | None:
    """Return the results of earlier checks; None if none are kept.

    None are kept where rules of other packages are installed: the results would depend on their code.

    Args:
        tasks: what is to be checked. folder: where the caller wants results kept; without it they
            are kept where the system has such things, if there are many files.
        never: keep none.
    """
    many = len(tasks) >= MANY_FILES
    if never or not tasks or not (folder or many) or offers(RULES):
        return None
    from fretloom.collection.caching.store import Store, default_folder

    place = Path(folder) if folder else default_folder()
    return Store(place, tasks[0].root) if place is not None else None
