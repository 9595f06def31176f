"""Which lessons a folder holds, and what the root of a lesson's collection is.

The root is the folder that `use` and `based on` must stay in. The rule, the same for every command
and for files and folders: it is the folder you name with `--root`, else the folder you are in if
the lesson lies in it, else the lesson's own folder.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from pathlib import Path

from fretloom.errors import FretloomError, LessonUnreadable
from fretloom.text import shown_name


def lessons_in(paths: Iterable[str], root: str | None) -> Iterator[tuple[Path, Path]]:
    """Yield each lesson file that is named or lies in a named folder, once, with its collection's root.

    Raises:
        LessonUnreadable: a path cannot be looked at.
        FretloomError: the root is not a folder.
    """
    seen: set[Path] = set()
    for path in map(Path, paths):
        for file in _below(path) if _is_folder(path) else (path,):
            if file not in seen:
                seen.add(file)
                yield file, default_root(file, root)


def default_root(file: str | Path, root: str | None) -> Path:
    """Return the root of a file's collection: the folder named, else the working folder if the file is in it.

    Raises:
        FretloomError: what is named is not a folder.
    """
    if root is not None:
        return _named(root)
    try:
        here = Path.cwd()
    except OSError:  # It was removed.
        return Path(file).parent
    inside = _resolved(Path(file)).is_relative_to(_resolved(here))
    return here if inside else Path(file).parent


def _named(root: str) -> Path:
    if not root:
        raise FretloomError('--root is empty: name a folder, "." for the one you are in')
    try:
        if Path(root).is_dir():
            return Path(root)
        there = Path(root).exists()
    except (OSError, ValueError):
        there = False
    what = f"{shown_name(root)} is not a folder" if there else f"there is no folder {shown_name(root)}"  # fmt: skip
    raise FretloomError(f"--root: {what}")


def _below(folder: Path) -> Iterator[Path]:
    """Yield the lessons of a folder in a stable order; hidden folders and links out of it are passed over."""
    inside = _resolved(folder)
    for place, folders, names in os.walk(folder):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        for name in sorted(names):
            file = Path(place, name)
            if file.suffix == ".lesson" and _resolved(file).is_relative_to(inside):
                yield file


def _resolved(path: Path) -> Path:
    """Follow all links; a path that leads in circles stays as it is, and reading it fails later."""
    try:
        return path.resolve()
    except (OSError, RuntimeError):
        return path.absolute()


def _is_folder(path: Path) -> bool:
    try:
        return path.is_dir()
    except OSError as error:
        shown = shown_name(path)
        raise LessonUnreadable(f"{shown} cannot be read: {error.strerror or error}") from error
