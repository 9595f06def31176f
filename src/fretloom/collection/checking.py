"""Checks many lessons, in one process or several, and gives again what is known of those that have not changed."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from fretloom import api
from fretloom.api import HouseStyle
from fretloom.api.soundness import texts_read
from fretloom.collection.results import Checked
from fretloom.collection.sharing import shared_out
from fretloom.errors import ExtensionFaulty, LessonUnreadable, own_fault
from fretloom.values import frozen

if TYPE_CHECKING:
    from fretloom.collection.caching.store import Store


@frozen
class Task:
    """One file to check, the root of its collection and its house style; `text` in place of what is in it, if given."""

    name: str
    root: str
    text: str | None = None
    style: HouseStyle | None = None


def check_all(
    tasks: Sequence[Task],
    jobs: int | None = None,
    remark: Callable[[str], object] = lambda _: None,
    store: Store | None = None,
) -> Iterable[Checked]:
    """Check the files in their order, as `shared_out` shares them out; those that a store knows are not checked."""
    if store is None:
        return shared_out(check_one, tasks, jobs, remark)
    known = [
        store.get(one.name, one.root, one.style) if one.text is None else None for one in tasks
    ]
    return _with_known(tasks, known, jobs, remark, store)


def _with_known(
    tasks: Sequence[Task],
    known: Sequence[Checked | None],
    jobs: int | None,
    remark: Callable[[str], object],
    store: Store,
) -> Iterator[Checked]:
    asked = [task for task, one in zip(tasks, known, strict=True) if one is None]
    made = iter(shared_out(check_one, asked, jobs, remark))
    for task, one in zip(tasks, known, strict=True):
        if one is not None:
            yield one
            continue
        checked = next(made)
        if task.text is None:
            store.put(checked, task.root, task.style)
        yield checked


def check_one(task: Task) -> Checked:
    """Check one file; whatever happens to it, the others can go on."""
    try:
        if task.text is None:
            lesson = api.load(task.name, root=task.root)
        else:
            lesson = api.loads(task.text, path=task.name, root=task.root)
        found = api.examine(lesson, style=task.style)
        return Checked(task.name, found.findings, found.waived, texts=texts_read(lesson) or ())
    except LessonUnreadable as error:
        return Checked(task.name, unreadable=str(error))
    except ExtensionFaulty:  # It would be the same with every file.
        raise
    except Exception as error:  # One file must not keep the others from being checked.
        return Checked(task.name, unreadable=f"{task.name}: {own_fault(error)}")
