"""Shares out work on many files between processes."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TypeVar

#: From so many files on, two processes pay for their start.
MANY_FILES = 24
#: So many files are handed to a process at once.
CHUNK = 8
Given = TypeVar("Given")
Made = TypeVar("Made")


def shared_out(
    work: Callable[[Given], Made],
    tasks: Sequence[Given],
    jobs: int | None,
    remark: Callable[[str], object],
) -> Iterable[Made]:
    """Do the same with each task, in their order; without `jobs` two processes share the work if there are many.

    Where other processes cannot be had, or one dies, this one does what is left, and `remark` gets
    one sentence about it.
    """
    if jobs is None:
        jobs = min(2, os.cpu_count() or 1) if len(tasks) >= MANY_FILES else 1
    if jobs == 1 or len(tasks) <= 1:
        return map(work, tasks)
    return _in_processes(work, tasks, jobs, remark)


def more_than_cores(jobs: int | None) -> str:
    """Return why that number of processes is not faster than a lower one, "" if it may be."""
    cores = os.cpu_count() or 1
    if jobs is None or jobs <= cores:
        return ""
    return f"{jobs} processes are not faster than {cores}: this machine works on {cores} at a time"


def _in_processes(
    work: Callable[[Given], Made],
    tasks: Sequence[Given],
    jobs: int,
    remark: Callable[[str], object],
) -> Iterator[Made]:
    done = 0
    try:
        for made in _from_pool(work, tasks, jobs):
            done += 1
            yield made
    except (
        Exception
    ) as error:  # Systems refuse processes in many ways; one process can always go on.
        reason = getattr(error, "strerror", None)
        why = f" ({reason})" if reason else ""
        remark(f"a second process could not be used{why}, so one process did all the work")
        yield from map(work, tasks[done:])


def _from_pool(work: Callable[[Given], Made], tasks: Sequence[Given], jobs: int) -> Iterator[Made]:
    # A page or a small system may not have these modules.
    from concurrent.futures import ProcessPoolExecutor
    from multiprocessing import active_children

    others = active_children()
    pool = ProcessPoolExecutor(jobs, initializer=_leave_interrupts)
    try:
        yield from pool.map(work, tasks, chunksize=CHUNK)
    except Exception:
        # A pool that did not get all it needs leaves processes that would wait for work for ever.
        pool.shutdown(wait=False, cancel_futures=True)
        for child in active_children():
            if child not in others:
                child.terminate()
                child.join()
        raise
    except BaseException:
        # Who interrupts the command, or wants no more of it, waits for what was begun and for nothing else;
        # of processes that are killed at work the pool would tell.
        pool.shutdown(cancel_futures=True)
        raise
    pool.shutdown()


def _leave_interrupts() -> None:
    """Leave Ctrl-C, which reaches all processes of a terminal, to the one that shares out; end when asked to."""
    import signal

    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
