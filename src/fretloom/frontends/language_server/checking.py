"""Looks for findings as one types: soon after a change, in steps, and no longer than they are wanted."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from time import perf_counter

from lsprotocol import types

from fretloom.collection.while_typing.opened import OpenLesson, half_at
from fretloom.errors import LessonUnreadable
from fretloom.frontends.language_server.desk import Desk, Located, Snapshot
from fretloom.frontends.language_server.findings import NoticeBoard, shown_findings, told_alone

#: Seconds to wait after a change, for others that come with it; where a look takes longer than most, a part of that.
_LEAST_PAUSE, _LONGEST_PAUSE = 0.005, 0.5
_LONG, _PART = 0.15, 0.5

Found = list[tuple[str, types.Diagnostic]]


class Checking:
    """Looks for findings in lessons that have changed, and shows them.

    Args:
        desk: the open texts.
        publish: shows what was found at a text.
        failed: says that something went wrong that should not have.
        settled: hears why a configuration does not count, "" if it does.
    """

    def __init__(
        self,
        desk: Desk,
        publish: Callable[[types.PublishDiagnosticsParams], object],
        failed: Callable[[Exception], object],
        settled: Callable[[str], object],
    ) -> None:
        self.desk, self._publish, self._failed, self._settled = desk, publish, failed, settled
        self.able = types.ClientCapabilities()
        self._board = NoticeBoard()
        self._tasks: dict[str, asyncio.Task[None]] = {}
        self._took: dict[str, float] = {}

    def soon(self, uri: str) -> None:
        """Look at a lesson in a moment; what is being looked for in an older text of it is dropped."""
        self._stop(uri)
        self._tasks[uri] = asyncio.get_running_loop().create_task(self._look(uri))

    def soon_all(self) -> None:
        """Look at all lessons that are open."""
        for uri in list(self.desk.texts):
            self.soon(uri)

    def changed(self, uri: str) -> None:
        """Look at a text that has changed, and at the lessons that need it."""
        text = self.desk.texts[uri]
        for one in dict.fromkeys((uri, *self.desk.needing(text.path), *self._tasks)):
            if one in self.desk.texts:
                self.soon(one)

    def closed(self, uri: str) -> None:
        """Forget what was found in a text that is no longer open."""
        self._stop(uri)
        self._took.pop(uri, None)
        for one in self._board.drop(uri):
            self._show(one, self.desk.snapshot())

    def _stop(self, uri: str) -> None:
        task = self._tasks.pop(uri, None)
        if task is not None:
            task.cancel()

    async def _look(self, uri: str) -> None:
        took = self._took.get(uri, 0.0)
        pause = min(took * _PART, _LONGEST_PAUSE) if took > _LONG else _LEAST_PAUSE
        await asyncio.sleep(pause)
        at, start = self.desk.snapshot(), perf_counter()
        try:
            found = await self._found(uri, at)
            self._took[uri] = perf_counter() - start
            for one in self._board.put(uri, found):
                self._show(one, at)
        except Exception as error:  # It may go well after the next change.
            self._failed(error)
        finally:
            if self._tasks.get(uri) is asyncio.current_task():
                del self._tasks[uri]

    async def _found(self, uri: str, at: Snapshot) -> Found:
        """Return what is found in a lesson; between its steps others can have something done."""
        desk = self.desk
        try:
            lesson = await desk.work(lambda: desk.lesson(uri, at))
        except LessonUnreadable as error:
            return [(uri, self._told(uri, at, error))]
        if lesson is None:
            return []
        self._settled(lesson.settled.fault)
        await desk.work(lambda: lesson.examined)
        await desk.work(lambda: lesson.findings)
        return await desk.work(lambda: self._as_shown(uri, lesson, at))

    def _told(self, uri: str, at: Snapshot, error: LessonUnreadable) -> types.Diagnostic:
        """Return why a text is not read, where it can be seen."""
        text = at.texts[uri]
        half = half_at(text.text)
        if half is None:
            return told_alone(str(error))
        places = text.places(self.desk.encoding)
        where = types.Range(places.position(half), places.position(half + 1))
        return told_alone(
            "half of a character stands here, so the lesson is not read: delete it", where
        )

    def _as_shown(self, uri: str, lesson: OpenLesson, at: Snapshot) -> Found:
        return list(shown_findings(lesson.findings, Located(self.desk, at, uri), self.able))

    def _show(self, uri: str, at: Snapshot) -> None:
        text = at.texts.get(uri)
        version = text.version if text is not None else None
        found = self._board.at(uri)
        self._publish(types.PublishDiagnosticsParams(uri, found, version))
