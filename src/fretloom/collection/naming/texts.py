"""The texts of a collection's lessons, each read once, and which of them names which."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from itertools import islice
from pathlib import Path

from fretloom.characters import composed
from fretloom.collection.configuration.finding import resolved
from fretloom.collection.lessons import lessons_below
from fretloom.collection.naming.named_in_text import files_in_text
from fretloom.errors import FretloomError, LessonUnreadable
from fretloom.files import read_text
from fretloom.limits import LIMITS
from fretloom.notation.linking import Collection
from fretloom.notation.loading import (
    FilePath,
    TextsByPath,
    as_path,
    refuse_unreadable,
    texts_by_place,
)
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.syntax.read import read
from fretloom.source import Source
from fretloom.text import shown_name
from fretloom.values import frozen

Between = Callable[[], object]


@frozen
class Seen:
    """A lesson with all that it names, and the file of each text that was read for it, by the name of the text."""

    lesson: Lesson
    files: Mapping[str, Path]


class Texts:
    """The lessons below a root as they are now; texts may stand in place of files.

    Files are known by where they lie, links followed.

    Args:
        root: the folder that `use` and `based on` must stay in.
        texts: what stands in place of files, by their paths: an editor's unsaved texts. One that is too
            large, or that no file could hold, makes its file one that cannot be read.
        between: is called before each file and folder that is looked into; what it raises ends the looking.
    """

    def __init__(
        self, root: FilePath, texts: TextsByPath | None, between: Between | None = None
    ) -> None:
        self.root = resolved(Path(root))
        self.between: Between = between or (lambda: None)
        possible, self._impossible = _parted(texts)
        self._given = texts_by_place(possible)
        self._texts: dict[Path, str] = {}
        self._named: dict[Path, tuple[Path, ...]] = {}
        self._seen: dict[Path, Seen] = {}
        self._needs: dict[Path, frozenset[Path]] = {}
        self._needed: dict[Path, set[Path]] | None = None
        self._spelling = Collection(self.root, self._given)

    def text(self, file: Path) -> str:
        """Return the text of a file.

        Raises:
            LessonUnreadable: it cannot be read.
        """
        if file in self._impossible:
            refuse_unreadable(self._impossible[file], shown_name(file))
        if file not in self._texts:
            self.between()
            given = self._given.get(file)
            self._texts[file] = read_text(file) if given is None else given
        return self._texts[file]

    def seen(self, file: Path) -> Seen:
        """Return a lesson with all that it names.

        Raises:
            LessonUnreadable: the file itself cannot be read.
        """
        if file not in self._seen:
            self.between()
            self._seen[file] = self._read(file)
        return self._seen[file]

    def _read(self, file: Path) -> Seen:
        collection = Collection(self.root, {**self._given, **self._texts})
        lesson = read(Source(str(file), self.text(file)))
        linked = collection.linked(lesson, file, (file,))
        files = {one.source.name: path for path, one in collection.done.items() if one.source}
        return Seen(linked, {**files, str(file): file})

    def needs(self, file: Path) -> frozenset[Path]:
        """Return a file, the files that it names, and those that they name."""
        if file not in self._needs:
            found, waiting = {file}, [file]
            while waiting:
                fresh = [one for one in self._names(waiting.pop()) if one not in found]
                found.update(fresh)
                waiting += fresh
            self._needs[file] = frozenset(found)
        return self._needs[file]

    def needing(self, files: Iterable[Path]) -> list[Path]:
        """Return some files and all below the root that need one of them, in a stable order.

        Raises:
            FretloomError: there are more lessons or folders below the root than are looked through.
        """
        needed = self._all_needed()
        found = set(files)
        waiting = list(found)
        while waiting:
            fresh = needed.get(waiting.pop(), set()) - found
            found |= fresh
            waiting += fresh
        return sorted(found)

    def readable(self, files: Iterable[Path]) -> dict[Path, str]:
        """Return the texts of those files that can be read."""
        found: dict[Path, str] = {}
        for file in files:
            with suppress(LessonUnreadable):
                found[file] = self.text(file)
        return found

    def says(self, file: Path, name: str) -> bool:
        """Whether a name stands somewhere in a text; it need not be a name there."""
        return name in composed(self._if_readable(file))

    def unread(self, file: Path) -> LessonUnreadable | None:
        """Return why a text that is there cannot be read, None if it can be, or is not there."""
        try:
            self.text(file)
        except LessonUnreadable as error:
            return error if file in self._impossible or file.is_file() else None
        return None

    def _all_needed(self) -> dict[Path, set[Path]]:
        """Return by each file that is named below the root those that name it."""
        if self._needed is None:
            needed: dict[Path, set[Path]] = {}
            for file in {*map(resolved, self._below()), *self._given, *self._impossible}:
                for other in self._names(file):
                    needed.setdefault(other, set()).add(file)
            self._needed = needed
        return self._needed

    def _below(self) -> list[Path]:
        """Return the lessons below the root."""
        folders = 0

        def entering() -> None:
            nonlocal folders
            self.between()
            folders += 1
            if folders > LIMITS.folders_named:
                raise self._too_many(LIMITS.folders_named, "folders")

        below = list(islice(lessons_below(self.root, entering), LIMITS.lessons_named + 1))
        if len(below) > LIMITS.lessons_named:
            raise self._too_many(LIMITS.lessons_named, "lessons")
        return below

    def _too_many(self, most: int, what: str) -> FretloomError:
        return FretloomError(
            f"there are more than {most:,} {what} below {shown_name(self.root)}: "
            "name a smaller root (in an editor, open a smaller folder)"
        )

    def _names(self, file: Path) -> tuple[Path, ...]:
        if file not in self._named:
            places = (file.parent / name for name in files_in_text(self._if_readable(file)))
            found = (resolved(self._spelling.as_spelt_there(place)) for place in places)
            inside = dict.fromkeys(one for one in found if one.is_relative_to(self.root))
            self._named[file] = tuple(inside)
        return self._named[file]

    def _if_readable(self, file: Path) -> str:
        try:
            return self.text(file)
        except LessonUnreadable:
            return self._impossible[file] if file in self._impossible else _raw(file)


def _raw(file: Path) -> str:
    """Return what a file that is not a text seems to say; the names of other files can most likely be read."""
    try:
        if not file.is_file():
            return ""
        with file.open("rb") as opened:
            return opened.read(LIMITS.characters).decode("latin-1")
    except OSError:
        return ""


def _parted(texts: TextsByPath | None) -> tuple[dict[FilePath, str], dict[Path, str]]:
    """Return the texts that lessons can be, and by the places of their files those that none can be."""
    possible: dict[FilePath, str] = {}
    impossible: dict[Path, str] = {}
    for path, text in (texts or {}).items():
        try:
            refuse_unreadable(text, "")
            possible[path] = text
        except LessonUnreadable:
            impossible[resolved(as_path(path, "a path of texts"))] = text
    return possible, impossible
