"""Checks many lessons, in one process or several, and returns each finding in the form that was asked for."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator, Sequence

from fretloom import api
from fretloom.diagnostics import Diagnostic
from fretloom.errors import ExtensionFaulty, LessonUnreadable, own_fault
from fretloom.rule_facts import Severity
from fretloom.values import frozen

#: From so many files on, two processes pay for their start.
MANY_FILES = 24
#: So many files are handed to a process at once.
CHUNK = 8
#: Forms in which findings are given; "json" gives plain data.
FORMS = ("text", "json", "github")


@frozen
class Task:
    """One file to check, the root of its collection, and the form of its findings."""

    name: str
    root: str
    form: str
    colour: bool = False


@frozen
class Checked:
    """What is reported of one file: its findings and how grave each is, or why it was not read."""

    name: str
    findings: tuple[object, ...] = ()
    severities: tuple[Severity, ...] = ()
    unreadable: str = ""


def check_all(
    tasks: Sequence[Task],
    jobs: int | None = None,
    remark: Callable[[str], object] = lambda _: None,
) -> Iterable[Checked]:
    """Check the files in their order; without `jobs` two processes share the work if there are many.

    Where other processes cannot be had, or one dies, this one checks what is left, and `remark` gets
    one sentence about it.
    """
    if jobs is None:
        jobs = min(2, os.cpu_count() or 1) if len(tasks) >= MANY_FILES else 1
    if jobs == 1 or len(tasks) == 1:
        return map(check_one, tasks)
    return _in_processes(tasks, jobs, remark)


def _in_processes(
    tasks: Sequence[Task], jobs: int, remark: Callable[[str], object]
) -> Iterator[Checked]:
    done = 0
    try:
        for checked in _from_pool(tasks, jobs):
            done += 1
            yield checked
    except (
        Exception
    ) as error:  # Systems refuse processes in many ways; one process can always go on.
        reason = getattr(error, "strerror", None)
        why = f" ({reason})" if reason else ""
        remark(f"a second process could not be used{why}, so one process checked the files")
        yield from map(check_one, tasks[done:])


def _from_pool(tasks: Sequence[Task], jobs: int) -> Iterator[Checked]:
    # A page or a small system may not have these modules.
    from concurrent.futures import ProcessPoolExecutor
    from multiprocessing import active_children

    others = active_children()
    try:
        with ProcessPoolExecutor(jobs) as pool:
            yield from pool.map(check_one, tasks, chunksize=CHUNK)
    except Exception:
        # A pool that did not get all it needs leaves processes that would wait for work for ever.
        for child in active_children():
            if child not in others:
                child.terminate()
                child.join()
        raise


def check_one(task: Task) -> Checked:
    """Check one file; whatever happens to it, the others can go on."""
    try:
        found = api.check(api.load(task.name, root=task.root))
    except LessonUnreadable as error:
        return Checked(task.name, unreadable=str(error))
    except ExtensionFaulty:  # It would be the same with every file.
        raise
    except Exception as error:  # One file must not keep the others from being checked.
        return Checked(task.name, unreadable=f"{task.name}: {own_fault(error)}")
    give = _giver(task)
    return Checked(task.name, tuple(map(give, found)), tuple(one.severity for one in found))


def _giver(task: Task) -> Callable[[Diagnostic], object]:
    if task.form == "json":
        return api.finding_as_data
    if task.form == "github":
        return api.finding_as_annotation
    return lambda found: api.finding_as_text(found, task.colour)
