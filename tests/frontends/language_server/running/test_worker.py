"""Which work on lessons is done when, and what is dropped."""

from __future__ import annotations

import asyncio
from collections.abc import Callable

import pytest

from fretloom.frontends.language_server.running.worker import Dropped, Worker


def test_quick_work_is_done_in_the_middle_of_long_work() -> None:
    """Whatever is asked meanwhile: the long work has not come to its end when the others are answered."""
    worker, order = Worker(), list[str]()

    async def asked() -> None:
        def long() -> None:
            waiting = [_later(worker, loop, lambda n=n: order.append(f"quick {n}")) for n in (1, 2)]
            worker.between()
            order.append("long")
            futures.extend(waiting)

        loop, futures = asyncio.get_running_loop(), list[asyncio.Future[None]]()
        await worker.do(long, long=True)
        await worker.do(lambda: order.append("last"))

    asyncio.run(asked())
    worker.end()
    assert order == ["quick 1", "quick 2", "long", "last"]


def _later(
    worker: Worker, loop: asyncio.AbstractEventLoop, does: Callable[[], None]
) -> asyncio.Future[None]:
    """Have work asked for in the loop's thread, as an editor's messages are, and wait until it has been."""

    async def ask() -> asyncio.Future[None]:
        return worker.do(does)

    return asyncio.run_coroutine_threadsafe(ask(), loop).result()


def test_long_work_that_nobody_wants_ends_where_it_next_asks() -> None:
    """And what waits behind it is done; what was cancelled before it began is not begun."""
    worker, steps = Worker(), list[str]()

    async def asked() -> None:
        begun = asyncio.Event()
        loop = asyncio.get_running_loop()

        def long() -> None:
            loop.call_soon_threadsafe(begun.set)
            try:
                while True:
                    worker.between()
            except Dropped:
                steps.append("dropped")
                raise

        first = worker.do(long, long=True)
        second = worker.do(lambda: steps.append("never"), long=True)
        await begun.wait()
        second.cancel()
        first.cancel()
        await worker.do(lambda: steps.append("next"), long=True)

    asyncio.run(asked())
    worker.end()
    assert steps == ["dropped", "next"]


def test_what_goes_wrong_is_told_to_whoever_asked() -> None:
    """And the thread goes on."""
    worker = Worker()

    async def asked() -> int:
        with pytest.raises(ZeroDivisionError):
            await worker.do(lambda: 1 // 0)
        return await worker.do(lambda: 7)

    assert asyncio.run(asked()) == 7
    worker.end()
