"""Reads a lesson, from a file or a text, together with the files it names by `use` and `based on`."""

from __future__ import annotations

import os
import re
from collections.abc import Mapping
from pathlib import Path

from fretloom.errors import FretloomError, LessonUnreadable
from fretloom.files import read_text
from fretloom.limits import LIMITS
from fretloom.notation.link_faults import exists, is_folder, resolved
from fretloom.notation.linking import Collection, of_links, unlinked_noted
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.rereading import reread
from fretloom.notation.syntax.read import read
from fretloom.shapes import refuse_other_than_text
from fretloom.source import Source
from fretloom.values import evolve

FilePath = str | os.PathLike[str]
#: Texts that stand in place of files, by the paths of these.
TextsByPath = Mapping[str, str] | Mapping[Path, str] | Mapping[FilePath, str]
_HALF = re.compile("[\ud800-\udfff]")


def load_lesson(path: FilePath, root: FilePath | None = None) -> Lesson:
    """Read a lesson file and those it names; `root` is the collection's folder (else the file's).

    Raises:
        LessonUnreadable: the file itself is missing, not text, or too large, or the root is not a folder.
    """
    file = as_path(path, "path")
    lesson = read(Source(str(path), read_text(file)))
    return _followed(lesson, file, root)


def loads_lesson(
    text: str,
    path: FilePath | None = None,
    root: FilePath | None = None,
    texts: TextsByPath | None = None,
) -> Lesson:
    """Read a lesson from a text that lives, or is to live, at `path`, and the files it names.

    `texts` stand in place of files that it names, by their paths.

    Raises:
        LessonUnreadable: the text is too large, or holds what no file can, or the root is not a folder.
    """
    refuse_other_than_text(text)
    place = None if path is None else as_path(path, "path")
    name = "<text>" if path is None else str(path)
    refuse_unreadable(text, name)
    lesson = read(Source(name, text.removeprefix("\ufeff")))
    if place is None and root is None:
        return unlinked_noted(lesson)
    return _followed(lesson, place, root, texts)


def link_lesson(
    lesson: Lesson, path: FilePath | None = None, root: FilePath | None = None
) -> Lesson:
    """Read the files that a lesson names again, and forget those that were linked before.

    Raises:
        FretloomError: neither a path nor a root is given, or the root is not a folder.
    """
    if path is None and root is None:
        raise FretloomError("link needs a path (where the lesson lives), or a root, or both")
    place = None if path is None else as_path(path, "path")
    text = reread(lesson)
    kept = tuple(fault for fault in text.faults if not of_links(fault))
    return _followed(evolve(text, faults=kept, linked={}), place, root)


def as_path(given: FilePath, argument: str) -> Path:
    """Return a path that a caller gave.

    Raises:
        TypeError: it is neither a text nor a path; the message names the argument.
        LessonUnreadable: it is empty.
    """
    name = os.fspath(given) if isinstance(given, str | os.PathLike) else given
    if not isinstance(name, str):
        raise TypeError(f"{argument} is a str or a Path, not {type(given).__name__}")
    if not name:
        raise LessonUnreadable(f'{argument} is empty: name a place, "." for this folder')
    return Path(name)


def refuse_unreadable(text: str, name: str) -> None:
    """Refuse a text that is too large for a lesson, or that no file could hold.

    Raises:
        LessonUnreadable: as said.
    """
    if len(text) > LIMITS.characters:
        raise LessonUnreadable(
            f"{name} is too large for a lesson: more than {LIMITS.characters:,} characters"
        )
    half = None if text.isascii() else _HALF.search(text)
    if half is not None:
        line = Source(name, text).position(half.start())[0]
        raise LessonUnreadable(
            f"{name} holds half of a character on line {line} (a lone surrogate): decode it again"
        )


def texts_by_place(texts: TextsByPath | None) -> dict[Path, str]:
    """Return texts that stand in place of files by the places of these, links followed.

    Raises:
        TypeError: a path or a text is none.
        LessonUnreadable: a text is too large, or holds what no file can.
    """
    found: dict[Path, str] = {}
    for path, text in (texts or {}).items():
        refuse_other_than_text(text)
        refuse_unreadable(text, str(path))
        found[resolved(as_path(path, "a path of texts"))] = text.removeprefix("\ufeff")
    return found


def _followed(
    lesson: Lesson,
    place: Path | None,
    root: FilePath | None,
    texts: TextsByPath | None = None,
) -> Lesson:
    """Link a lesson that lives at a place, or directly in the root."""
    folder = None if root is None else as_path(root, "root")
    if folder is not None and not is_folder(folder):
        what = (
            f"{folder} is a file, not a folder"
            if exists(folder)
            else f"there is no folder {folder}"
        )
        raise LessonUnreadable(f"root: {what}")
    if place is None:
        assert folder is not None
        inside = resolved(folder)
        return Collection(inside, texts_by_place(texts)).linked(lesson, inside / "<text>", ())
    file = resolved(place)
    inside = resolved(folder if folder is not None else place.parent)
    collection = Collection(inside, texts_by_place(texts))
    return collection.linked(lesson, file, (file,))
