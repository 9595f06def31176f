"""The lessons that a check is about: files and folders, a text on standard input, all or what has changed."""

from __future__ import annotations

import contextlib
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path

from fretloom.collection.checking import Task
from fretloom.collection.choosing.watching import Stamps, stamps
from fretloom.collection.configuration.finding import resolved
from fretloom.collection.configuration.reading import PLACES
from fretloom.collection.configuration.values import Configuration
from fretloom.collection.lessons import FoundLesson, Roots, found_lessons
from fretloom.errors import FretloomError, LessonUnreadable
from fretloom.files import decode
from fretloom.limits import LIMITS
from fretloom.text import shown_name
from fretloom.values import evolve, frozen

#: What stands for standard input, and what a text from there is called unless it is named.
STDIN, UNNAMED = "-", "<text>"


@frozen
class Chosen:
    """What is checked, in order, each with what is settled for it; `remarks` are about what is left out."""

    tasks: tuple[Task, ...]
    configurations: tuple[Configuration, ...]
    remarks: tuple[str, ...] = ()


def chosen_lessons(
    paths: Sequence[str], root: str | None, name: str | None = None, revision: str | None = None
) -> Chosen:
    """Return the lessons that are named or lie in named folders.

    Args:
        paths: files and folders; "-" for a text on standard input.
        root: of their collection, None for the usual ones.
        name: the file that the text on standard input belongs in.
        revision: of git; only lessons that changed since, or need a file that did.

    Raises:
        LessonUnreadable: there are none, or one cannot be looked at.
        FretloomError: the root is not a folder, a configuration is faulty, git says no.
    """
    found = list(found_lessons([one for one in paths if one != STDIN], root))
    text = None
    if STDIN in paths:
        text = decode(sys.stdin.buffer.read(4 * LIMITS.characters + 4), shown_name(name or UNNAMED))
        found.insert(0, Roots(root).found(Path(name or UNNAMED)))
    if not found:
        raise LessonUnreadable(f"there are no .lesson files in {', '.join(map(shown_name, paths))}")
    kept = [one for one in found if one.left_out is None]
    if revision is not None:
        from fretloom.collection.choosing.changed import changed_since, touched

        kept = touched(kept, changed_since(revision, _folder(paths[0])))
    named = set(map(Path, paths))
    remarks = tuple(_said(one) for one in found if one.left_out is not None and one.file in named)
    tasks = [Task(str(one.file), str(one.root), style=one.configuration.style) for one in kept]
    if text is not None and found[0] in kept:
        tasks[0] = evolve(tasks[0], text=text)
    return Chosen(tuple(tasks), tuple(one.configuration for one in kept), remarks)


def watched_files(paths: Sequence[str], root: str | None, also: Iterable[str]) -> Stamps:
    """Return the state of all that a check of files and folders depends on.

    Args:
        paths: files and folders. root: as for `chosen_lessons`.
        also: files that were read for them.
    """
    names = {*also, *paths}
    with contextlib.suppress(FretloomError):
        for one in found_lessons(paths, root):
            names.add(str(one.file))
            if one.configuration.file is not None:
                names.add(str(one.configuration.file))
            names.update(str(one.file.with_name(name)) for name in PLACES)
    names.update(str(folder / name) for folder in (Path(), *map(Path, paths)) for name in PLACES)
    return stamps(names)


def _folder(path: str) -> Path:
    place = resolved(Path(path))
    return place if place.is_dir() else place.parent


def _said(one: FoundLesson) -> str:
    assert one.left_out is not None
    by = f"{shown_name(one.configuration.file)}:{one.left_out.line}"
    return f"{shown_name(one.file)} is left out, by {by}"
