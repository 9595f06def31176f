"""Which lessons a folder holds, what is settled for them, and what the root of their collection is.

The root is the folder that `use` and `based on` must stay in. The rule, the same for every command
and for files and folders: it is the folder you name with `--root`, else the folder of the nearest
`fretloom.toml` above the lesson, else the folder you are in if the lesson lies in it, else the
lesson's own folder.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

from fretloom.collection.configuration.finding import Configurations, resolved
from fretloom.collection.configuration.values import Configuration, LeftOutFiles
from fretloom.errors import FretloomError, LessonUnreadable
from fretloom.text import shown_name
from fretloom.values import frozen


@frozen
class FoundLesson:
    """A lesson file, the root of its collection, what is settled for it, and what leaves it out, if anything does."""

    file: Path
    root: Path
    configuration: Configuration
    left_out: LeftOutFiles | None = None


def lessons_in(paths: Iterable[str], root: str | None) -> Iterator[tuple[Path, Path]]:
    """Yield each lesson file that is named or lies in a named folder, once, with its collection's root.

    Those that the configuration of the collection leaves out are passed over.

    Raises:
        LessonUnreadable: a path cannot be looked at.
        FretloomError: the root is not a folder, or the configuration is faulty.
    """
    for found in found_lessons(paths, root):
        if found.left_out is None:
            yield found.file, found.root


def found_lessons(paths: Iterable[str], root: str | None) -> Iterator[FoundLesson]:
    """Yield each lesson file that is named or lies in a named folder, once, left out or not.

    Raises as `lessons_in`.
    """
    seen: set[Path] = set()
    roots = Roots(root)
    for path in map(Path, paths):
        for file in lessons_below(path) if _is_folder(path) else (path,):
            if file not in seen:
                seen.add(file)
                yield roots.found(file)


def default_root(file: str | Path, root: str | None) -> Path:
    """Return the root of a file's collection: the folder named, that of its configuration, or the one you are in.

    Raises:
        FretloomError: what is named is not a folder, or the configuration is faulty.
    """
    return Roots(root).found(Path(file)).root


class Roots:
    """The roots and configurations of many files, with what was named as the root of all of them."""

    def __init__(self, named: str | None) -> None:
        self.named = named
        self._configurations = Configurations()
        self._folders: dict[Path, Path] = {}

    def found(self, file: Path) -> FoundLesson:
        """Return a file with all that is settled for it.

        Raises:
            FretloomError: what is named is not a folder, or the configuration is faulty.
        """
        named = _named(self.named) if self.named is not None else None
        place = self._place(file)
        settled = self._configurations.of_folder(place.parent)
        root = named or settled.root or _usual_root(file, place)
        return FoundLesson(file, root, settled, settled.leaving_out(place))

    def _place(self, file: Path) -> Path:
        """Return where a file is, links followed; its folder is looked up once."""
        if os.path.islink(file):  # noqa: PTH114
            return resolved(file)
        folder = self._folders.get(file.parent)
        if folder is None:
            folder = self._folders[file.parent] = resolved(file.parent)
        return folder / file.name


def _usual_root(file: Path, place: Path) -> Path:
    try:
        here = Path.cwd()
    except OSError:  # It was removed.
        return file.parent
    return here if place.is_relative_to(resolved(here)) else file.parent


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


def lessons_below(folder: Path, entering: Callable[[], object] | None = None) -> Iterator[Path]:
    """Yield the lessons of a folder in a stable order; hidden folders and links out of it are passed over.

    Args:
        folder: to look in.
        entering: is called in each folder; what it raises ends the walk.
    """
    inside = resolved(folder)
    for place, folders, names in os.walk(folder):
        if entering is not None:
            entering()
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        for name in sorted(names):
            file = Path(place, name)
            if file.suffix == ".lesson" and _stays(file, inside):
                yield file


def _stays(file: Path, inside: Path) -> bool:
    """Whether a file that was found in a folder lies in it; the walk follows no links between folders."""
    outside = os.path.islink(file)  # noqa: PTH114
    return not outside or resolved(file).is_relative_to(inside)


def _is_folder(path: Path) -> bool:
    try:
        return path.is_dir()
    except OSError as error:
        shown = shown_name(path)
        raise LessonUnreadable(f"{shown} cannot be read: {error.strerror or error}") from error
