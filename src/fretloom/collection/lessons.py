"""Which lessons a folder holds, and what the root of a lesson's collection is."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from pathlib import Path

from fretloom.errors import LessonUnreadable


def lessons_in(paths: Iterable[str], root: str | None) -> Iterator[tuple[Path, Path]]:
    """Yield each lesson file that is named or lies in a named folder, once, with its collection's root.

    Raises:
        LessonUnreadable: a path cannot be looked at.
    """
    seen: set[Path] = set()
    for path in map(Path, paths):
        if _is_folder(path):
            found = [(file, Path(root) if root else path) for file in _below(path)]
        else:
            found = [(path, default_root(path, root))]
        for file, collection in found:
            if file not in seen:
                seen.add(file)
                yield file, collection


def _below(folder: Path) -> Iterator[Path]:
    """Yield the lessons of a folder in a stable order; hidden folders and links out of it are passed over."""
    inside = _resolved(folder)
    for place, folders, names in os.walk(folder):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        for name in sorted(names):
            file = Path(place, name)
            if file.suffix == ".lesson" and _resolved(file).is_relative_to(inside):
                yield file


def default_root(file: str | Path, root: str | None) -> Path:
    """Return the root of a single file's collection: the one given, else the working folder if the file is in it."""
    if root is not None:
        return Path(root)
    here = Path.cwd()
    inside = _resolved(Path(file)).is_relative_to(_resolved(here))
    return here if inside else Path(file).parent


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
        raise LessonUnreadable(f"{path} cannot be read: {error.strerror or error}") from error
