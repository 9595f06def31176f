"""Many files are checked alike however many processes can be had."""

from __future__ import annotations

import concurrent.futures
import concurrent.futures.process
import multiprocessing
import os
import sys
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from fretloom.collection import checking
from fretloom.collection.checking import Task, check_all, check_one
from fretloom.collection.results import Checked
from fretloom.collection.sharing import more_than_cores
from fretloom.frontends.command.main import main

SOUND = 'lesson "Two cups"\n\nsection tune\n  C:x32010 { p5 , i3 , p4 , m2 }\n'
FAULTY = SOUND.replace("i3", "q3")


@pytest.fixture
def tasks(tmp_path: Path) -> list[Task]:
    """Twenty files, every third with a fault, one that is missing: several chunks."""
    names = []
    for number in range(20):
        file = tmp_path / f"{number:02}.lesson"
        if number != 7:
            file.write_text(FAULTY if number % 3 == 0 else SOUND, encoding="utf-8")
        names.append(str(file))
    return [Task(name, str(tmp_path)) for name in names]


def no_module(monkeypatch: pytest.MonkeyPatch) -> None:
    """As on a page: there is no `_multiprocessing`, so `concurrent.futures.process` fails to import."""
    monkeypatch.setitem(sys.modules, "concurrent.futures.process", None)
    monkeypatch.delitem(vars(concurrent.futures), "ProcessPoolExecutor", raising=False)


def raising(error: Exception) -> Callable[..., None]:
    def fail(*_: object, **__: object) -> None:
        raise error

    return fail


def no_semaphores(monkeypatch: pytest.MonkeyPatch) -> None:
    """As on a system without /dev/shm: making the queues raises."""
    monkeypatch.setattr(
        multiprocessing.context.BaseContext, "SimpleQueue", raising(PermissionError(13, "no shm"))
    )


def not_implemented(monkeypatch: pytest.MonkeyPatch) -> None:
    """As where `sem_open` is missing: the pool refuses in so many words."""
    monkeypatch.setattr(
        concurrent.futures.process, "_check_system_limits", raising(NotImplementedError("sem_open"))
    )


def no_fork(monkeypatch: pytest.MonkeyPatch) -> None:
    """The limit on processes is reached when the second one is to start; the first one waits."""
    start, started = multiprocessing.process.BaseProcess.start, []

    def once(process: multiprocessing.process.BaseProcess) -> None:
        if started:
            raise BlockingIOError(11, "Resource temporarily unavailable")
        started.append(process)
        start(process)

    monkeypatch.setattr(multiprocessing.process.BaseProcess, "start", once)


def no_threads(monkeypatch: pytest.MonkeyPatch) -> None:
    """The pool needs a thread to hand out the work; its processes are there already."""
    monkeypatch.setattr(threading.Thread, "start", raising(RuntimeError("can't start new thread")))


HERE = os.getpid()


def _dying(task: Task) -> Checked:
    if os.getpid() != HERE and task.name.endswith("11.lesson"):
        os._exit(9)
    return check_one(task)


def dies(monkeypatch: pytest.MonkeyPatch) -> None:
    """A worker is killed in the middle of the second chunk, as for want of memory."""
    monkeypatch.setattr(checking, "check_one", _dying)


def _unsendable(task: Task) -> Checked:
    return Checked(task.name, (threading.Lock(),)) if os.getpid() != HERE else check_one(task)


def cannot_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    """What a worker found cannot be sent to us."""
    monkeypatch.setattr(checking, "check_one", _unsendable)


WAYS = [
    no_module, no_semaphores, not_implemented, no_fork, no_threads, dies, cannot_answer,
]  # fmt: skip


@pytest.fixture(autouse=True)
def no_process_left() -> Iterator[None]:
    """A process left behind would keep Python from ending."""
    before = multiprocessing.active_children()
    yield
    assert multiprocessing.active_children() == before


@pytest.mark.process
@pytest.mark.parametrize("jobs", [1, 2, 3])
def test_more_processes_find_the_same(tasks: list[Task], jobs: int) -> None:
    """In the order of the files, and there is nothing to remark."""
    remarks: list[str] = []
    assert list(check_all(tasks, jobs, remarks.append)) == [check_one(task) for task in tasks]
    assert remarks == []


@pytest.mark.process
@pytest.mark.parametrize("way", WAYS)
def test_one_process_does_it_where_others_fail(
    tasks: list[Task], monkeypatch: pytest.MonkeyPatch, way: Callable[[pytest.MonkeyPatch], None]
) -> None:
    """The same results, each file once, and one remark."""
    expected = [check_one(task) for task in tasks]
    way(monkeypatch)
    remarks: list[str] = []
    assert list(check_all(tasks, 2, remarks.append)) == expected
    assert len(remarks) == 1
    assert remarks[0].startswith("a second process could not be used")
    assert remarks[0].endswith("so one process did all the work")


def test_the_command_goes_on_in_one_process(
    tasks: list[Task], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The remark goes to stderr alone; findings and exit code are those of one process."""
    names = [task.name for task in tasks if not task.name.endswith("07.lesson")]
    code = main(["check", "--jobs", "1", *names])
    alone = capsys.readouterr()
    no_semaphores(monkeypatch)
    assert main(["check", "--jobs", "2", *names]) == code == 1
    shared = capsys.readouterr()
    assert shared.out == alone.out
    assert alone.err == ""
    assert shared.err == (
        "fretloom: a second process could not be used (no shm), so one process did all the work\n"
    )


def test_more_processes_than_cores_are_remarked_on(tasks: list[Task], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:  # fmt: skip
    """They are no faster; as many are not worth a word."""
    monkeypatch.setattr(os, "cpu_count", lambda: 2)
    assert more_than_cores(2) == more_than_cores(None) == ""
    main(["check", "--jobs", "3", tasks[1].name])
    said = "fretloom: 3 processes are not faster than 2: this machine works on 2 at a time\n"
    assert capsys.readouterr().err == said
