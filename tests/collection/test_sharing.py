"""Work that is shared out between processes, and that somebody interrupts."""

from __future__ import annotations

import subprocess
import sys
from multiprocessing import active_children

import pytest

from fretloom.collection.sharing import CHUNK, shared_out

#: Takes the first result and then presses Ctrl-C, which a terminal sends to all processes.
_INTERRUPTED = f"""
import os, signal
from fretloom.collection.sharing import shared_out

if __name__ == "__main__":
    results = iter(shared_out(abs, range(-{CHUNK * 50}, 0), 2, print))
    print(next(results))
    try:
        os.killpg(os.getpgrp(), signal.SIGINT)
        list(results)
    except KeyboardInterrupt:
        results.close()
        print("interrupted")
"""


def _left() -> int:
    return len(active_children())


def test_results_come_in_the_order_of_the_tasks() -> None:
    tasks = range(-CHUNK * 3, 0)
    assert list(shared_out(abs, tasks, 2, print)) == [-task for task in tasks]


def test_who_wants_no_more_leaves_no_process_behind() -> None:
    before = _left()
    results = iter(shared_out(abs, range(-CHUNK * 3, 0), 2, print))
    assert next(results) == CHUNK * 3
    assert _left() == before + 2
    results.close()  # type: ignore[attr-defined]
    assert _left() == before


@pytest.mark.process
def test_ctrl_c_is_one_line_and_not_one_for_each_process() -> None:
    done = subprocess.run(
        [sys.executable, "-c", _INTERRUPTED],
        capture_output=True,
        text=True,
        start_new_session=True,
        timeout=60,
        check=False,
    )
    assert (done.stdout.split(), done.stderr) == ([str(CHUNK * 50), "interrupted"], "")
