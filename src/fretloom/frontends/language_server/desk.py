"""What the server keeps: the texts that are open, the lessons they make, and who works on them when.

Messages are taken in on one thread, which only keeps the texts up to date and so never makes an editor
wait. All that takes time is done by one other, in the order in which it was asked for; looking for
findings is cut into steps, so that what an editor asks meanwhile does not wait for all of it, and what is
asked of many files lets other questions in between.
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import TypeVar

from lsprotocol import types

from fretloom.api import Source, Span
from fretloom.collection.configuration.finding import resolved
from fretloom.collection.while_typing.opened import OpenLesson, opened, settled_here
from fretloom.errors import LessonUnreadable
from fretloom.frontends.language_server.places import EditorPlaces
from fretloom.frontends.language_server.running.worker import Worker
from fretloom.frontends.language_server.texts import OpenText, uri_of
from fretloom.values import frozen

T = TypeVar("T")


class OutOfDate(Exception):
    """What is being worked out is of texts that are others by now."""


@frozen
class Snapshot:
    """All that is open at one moment: texts by their addresses, and the folders that the editor works in.

    `moment` counts what has changed so far, in any text or on the disk.
    """

    texts: Mapping[str, OpenText]
    folders: tuple[Path, ...]
    moment: int

    @property
    def unsaved(self) -> dict[Path, str]:
        """The texts by the paths of their files."""
        return {one.path: one.text for one in self.texts.values()}


class Desk:
    """The open texts, and the lessons made of them."""

    def __init__(self) -> None:
        self.texts: dict[str, OpenText] = {}
        self.folders: tuple[Path, ...] = ()
        self.encoding = "utf-16"
        self._moment = 0
        self._worker = Worker()
        self._lessons: dict[str, tuple[int, OpenLesson | LessonUnreadable]] = {}

    def put(self, text: OpenText) -> None:
        """Keep a text that was opened or changed."""
        self.texts[text.uri] = text
        self._moment += 1

    def drop(self, uri: str) -> None:
        """Forget a text that was closed."""
        self.texts.pop(uri, None)
        self._lessons.pop(uri, None)
        self._moment += 1

    def something_changed(self) -> None:
        """Take note that files or folders may be others than before."""
        self._moment += 1

    def snapshot(self) -> Snapshot:
        """Return what is open now."""
        return Snapshot(dict(self.texts), self.folders, self._moment)

    def work(self, does: Callable[[], T], long: bool = False) -> asyncio.Future[T]:
        """Have something done by the thread that works on lessons; what is long lets others go before it."""
        return self._worker.do(does, long)

    def between(self, at: Snapshot) -> None:
        """Let others go on before long work on what was open at a moment.

        Raises:
            Dropped: nobody wants the long work any more.
            OutOfDate: something has changed since.
        """
        self._worker.between()
        if at.moment != self._moment:
            raise OutOfDate

    def lesson(self, uri: str, at: Snapshot) -> OpenLesson | None:
        """Return a lesson as it was at a moment, None if it was not open. Only for the thread that works on lessons.

        Raises:
            LessonUnreadable: it is too large for a lesson, or holds half of a character.
        """
        known = self._lessons.get(uri)
        if known is None or known[0] != at.moment:
            text = at.texts.get(uri)
            if text is None:
                return None
            known = self._lessons[uri] = at.moment, _read(text, at)
        if isinstance(known[1], LessonUnreadable):
            raise known[1]
        return known[1]

    def needing(self, path: Path) -> list[str]:
        """Return the open lessons that need a file, as far as that is known; of others it is assumed."""
        place = resolved(path)
        found = []
        for uri in self.texts:
            known = self._lessons.get(uri)
            lesson = known[1] if known else None
            if not isinstance(lesson, OpenLesson) or place in lesson.needs:
                found.append(uri)
        return found

    def uri_of(self, name: str, texts: Iterable[OpenText]) -> str:
        """Return the address of a file: as the editor writes it, if it is open; of several, the one called just so."""
        place = resolved(Path(name))
        same = [one for one in texts if name == str(one.path) or resolved(one.path) == place]
        same.sort(key=lambda one: name != str(one.path))
        return same[0].uri if same else uri_of(place)

    def close(self) -> None:
        """End the thread that works on lessons; nobody waits for it."""
        self._worker.end()


def _read(text: OpenText, at: Snapshot) -> OpenLesson | LessonUnreadable:
    settled = settled_here(text.path, at.folders)
    try:
        return opened(text.path, text.text, at.unsaved, settled)
    except LessonUnreadable as error:
        return error


class Located:
    """Gives the places of spans as an editor counts them, in whichever text they are.

    Args:
        desk, at: the texts. own: the address of the lesson that it is about: others can lead to the same file.
    """

    def __init__(self, desk: Desk, at: Snapshot, own: str) -> None:
        self._desk, self._at = desk, at
        self._texts = sorted(at.texts.values(), key=lambda one: one.uri != own)
        self._places: dict[Source, tuple[str, EditorPlaces]] = {}

    def __call__(self, span: Span) -> types.Location:
        """Return where a span is."""
        uri, places = self.places(span.source)
        return types.Location(uri, places.range(span))

    def places(self, source: Source) -> tuple[str, EditorPlaces]:
        """Return the address of a text, and its places."""
        known = self._places.get(source)
        if known is None:
            uri = self._desk.uri_of(source.name, self._texts)
            text = self._at.texts.get(uri)
            marked = text is not None and text.typed != text.text
            known = self._places[source] = uri, EditorPlaces(source, self._desk.encoding, marked)
        return known
