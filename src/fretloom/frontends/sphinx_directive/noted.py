"""What is known of pages from one build to the next, and what was said in this build.

Sphinx reads a page again when a file changes on which it depends; a file that is not there it takes for one that
always changes. So files that may appear are kept here, and pages with faults, which would pass unread.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from pathlib import Path

from sphinx.application import Sphinx
from sphinx.environment import BuildEnvironment

from fretloom.collection.configuration.finding import resolved
from fretloom.collection.configuration.reading import PLACES

#: To be raised when `Noted` has other fields: Sphinx then reads all pages anew.
NOTED_VERSION = 1
#: The rule that says at another file's name that it is faulty.
LINKED = "linked-file-faulty"
_NAME = "fretloom_noted"


class Noted:
    """What is noted of pages, by their names in Sphinx; it is kept with what Sphinx keeps."""

    def __init__(self) -> None:
        #: Pages on which something was found.
        self.faulty: set[str] = set()
        #: Files that would settle something if they were there.
        self.awaited: dict[str, set[str]] = {}
        #: The rules by which something was said in this build, by this process, at a place.
        self.said: dict[tuple[object, ...], set[str]] = {}

    def is_new(self, place: tuple[object, ...], rule: str) -> bool:
        """Whether a fault was not said before, be it by its rule or as that of a file which is named elsewhere."""
        rules = self.said.get(place, set())
        return not rules or (rule not in rules and LINKED not in (*rules, rule))

    def say(self, place: tuple[object, ...], rule: str) -> None:
        """Note that a fault was said."""
        self.said.setdefault(place, set()).add(rule)

    def waits_for(self, page: str, file: Path) -> None:
        """Note a file that is not there."""
        self.awaited.setdefault(page, set()).add(str(file))

    def outdated(self) -> Iterator[str]:
        """Yield pages that have to be read again."""
        yield from self.faulty
        for page, files in self.awaited.items():
            if any(map(os.path.isfile, files)):
                yield page

    def forget(self, page: str) -> None:
        """Drop what is noted of a page."""
        self.faulty.discard(page)
        self.awaited.pop(page, None)

    def take(self, pages: Iterable[str], other: Noted) -> None:
        """Take over pages that another process has read."""
        for page in pages:
            self.forget(page)
            if page in other.faulty:
                self.faulty.add(page)
            if page in other.awaited:
                self.awaited[page] = other.awaited[page]


def noted_in(env: BuildEnvironment) -> Noted:
    """Return what is noted of the pages that Sphinx knows."""
    found = getattr(env, _NAME, None)
    if not isinstance(found, Noted):
        found = Noted()
        setattr(env, _NAME, found)
    return found


def configuration_places(lesson: Path, root: Path | None) -> Iterator[Path]:
    """Yield each file that could settle something for a lesson, up to the folder of the one that does (`root`)."""
    folder = resolved(lesson).parent
    for place in (folder, *folder.parents):
        yield from (place / name for name in PLACES)
        if place == root:
            return


def connect(app: Sphinx) -> None:
    """Have Sphinx ask for what is noted."""
    app.connect("env-get-outdated", _outdated)
    app.connect("env-before-read-docs", _begin)
    app.connect("env-purge-doc", _purge)
    app.connect("env-merge-info", _merge)


def _outdated(_: Sphinx, env: BuildEnvironment, *__: set[str]) -> list[str]:
    return sorted(set(noted_in(env).outdated()))


def _begin(_: Sphinx, env: BuildEnvironment, __: list[str]) -> None:
    noted_in(env).said.clear()


def _purge(_: Sphinx, env: BuildEnvironment, page: str) -> None:
    noted_in(env).forget(page)


def _merge(_: Sphinx, env: BuildEnvironment, pages: Iterable[str], other: BuildEnvironment) -> None:
    noted_in(env).take(pages, noted_in(other))
