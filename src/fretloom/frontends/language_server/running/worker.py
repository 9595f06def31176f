"""The thread that works on lessons: quick work goes before long work, and what nobody wants any more is dropped."""

from __future__ import annotations

import asyncio
import threading
from collections import deque
from collections.abc import Callable
from concurrent.futures import Future, InvalidStateError
from contextlib import suppress
from typing import Any, TypeVar

from fretloom.values import frozen

T = TypeVar("T")


class Dropped(Exception):
    """Nobody wants what is being worked out any more."""


@frozen(eq=False)
class _Job:
    does: Callable[[], Any]
    done: Future[Any]

    def run(self) -> None:
        """Do it; what comes too late is let go. It is never marked as begun, so that it can be cancelled to the end."""
        if self.done.cancelled():
            return
        try:
            result = self.does()
        except BaseException as error:
            with suppress(InvalidStateError):  # Cancelled meanwhile.
                self.done.set_exception(error)
        else:
            with suppress(InvalidStateError):
                self.done.set_result(result)


class Worker:
    """Works on lessons in one thread, which ends with the program whatever it is about.

    Work that takes long calls `between` from time to time. There the quick work is done that waits.
    """

    def __init__(self) -> None:
        self._quick: deque[_Job] = deque()
        self._long: deque[_Job] = deque()
        self._news = threading.Condition()
        self._thread: threading.Thread | None = None
        self._now: _Job | None = None
        self._ended = False

    def do(self, does: Callable[[], T], long: bool = False) -> asyncio.Future[T]:
        """Have something done; the future can be cancelled until it has been."""
        job = _Job(does, Future())
        with self._news:
            (self._long if long else self._quick).append(job)
            if self._thread is None:
                self._thread = threading.Thread(target=self._work, name="lessons", daemon=True)
                self._thread.start()
            self._news.notify()
        return asyncio.wrap_future(job.done)

    def between(self) -> None:
        """Do the quick work that waits. Only for long work, in the thread of this.

        Raises:
            Dropped: nobody wants the long work any more.
        """
        while self._quick and not self._ended:
            self._quick.popleft().run()
        if self._ended or (self._now is not None and self._now.done.cancelled()):
            raise Dropped

    def end(self) -> None:
        """Begin nothing more; what is long ends where it next asks."""
        with self._news:
            self._ended = True
            self._news.notify()

    def _work(self) -> None:
        while True:
            with self._news:
                self._news.wait_for(lambda: self._quick or self._long or self._ended)
                if self._ended:
                    return
                self._now = None if self._quick else self._long[0]
                job = (self._quick or self._long).popleft()
            job.run()
