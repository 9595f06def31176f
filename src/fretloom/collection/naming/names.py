"""Where names stand: in one lesson, and in all files of a collection in which they mean the same thing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

from fretloom.collection.configuration.finding import resolved
from fretloom.collection.naming.meaning import brought_together, defined
from fretloom.collection.naming.texts import Between, Texts
from fretloom.errors import LessonUnreadable
from fretloom.notation.loading import FilePath, TextsByPath
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.model.walking.names import named
from fretloom.notation.model.walking.walk import NameKind
from fretloom.notation.syntax.read import read
from fretloom.performance.material.gather import gather
from fretloom.source import Source, Span
from fretloom.values import frozen


@frozen
class Occurrence:
    """One place where a name stands: `span` is the name alone, in the text of the file `path` (links followed).

    `defines` where the name is given, not used.
    """

    path: Path
    span: Span
    kind: NameKind
    name: str
    defines: bool


def occurrences(lesson: Lesson, path: Path) -> tuple[Occurrence, ...]:
    """Return all places in the text of one lesson where a voicing, a pattern or a section is named, in written order.

    What the lessons that it uses, or is based on, say of them is left out. In what could not be read
    no names are seen.
    """
    return tuple(
        Occurrence(path, one.span, one.kind, one.name, one.defines) for one in named(lesson)
    )


class Names:
    """The names in the lessons below a root, as the files (or texts in their place) are now.

    A file is read when it is first needed; what changes later is seen by a new one of these.
    All paths that it takes may be any way to a file; those that it gives are absolute, links followed.

    Args:
        root: the folder of the collection, which `use` and `based on` must stay in.
        texts: what stands in place of files, by their paths: an editor's unsaved texts. In one that is too
            large, or that no file could hold, no names are seen, whatever the disk has.
        between: is called before each file and folder that is looked into; what it raises ends the looking.
    """

    def __init__(
        self, root: FilePath, texts: TextsByPath | None = None, between: Between | None = None
    ) -> None:
        self.texts = Texts(root, texts, between)
        self._found: dict[Path, tuple[Occurrence, ...]] = {}
        self._lessons: dict[Path, Lesson] = {}

    def lesson(self, path: FilePath) -> Lesson:
        """Return a lesson alone, without what it names.

        Raises:
            LessonUnreadable: the file cannot be read.
        """
        file = resolved(Path(path))
        if file not in self._lessons:
            self._lessons[file] = read(Source(str(file), self.texts.text(file)))
        return self._lessons[file]

    def in_file(self, path: FilePath) -> tuple[Occurrence, ...]:
        """Return where names stand in one file, in written order.

        Raises:
            LessonUnreadable: it cannot be read.
        """
        file = resolved(Path(path))
        if file not in self._found:
            self._found[file] = occurrences(self.lesson(file), file)
        return self._found[file]

    def at(self, path: FilePath, offset: int) -> Occurrence | None:
        """Return the name that stands at an offset of a file (in code points; its end counts too), None if none does.

        Raises:
            LessonUnreadable: the file cannot be read.
        """
        for one in self.in_file(path):
            if one.span.start <= offset <= one.span.end:
                return one
        return None

    def in_scope(self, path: FilePath) -> tuple[Occurrence, ...]:
        """Return where each name is given that a lesson can use: in it, in what it is based on, in files it uses.

        Of several that are called alike the one that counts is there, and no other. Names of voicings come
        first, then those of patterns and of sections.

        Raises:
            LessonUnreadable: the file cannot be read.
        """
        seen = self.texts.seen(resolved(Path(path)))
        material = gather(seen.lesson)
        parts = (
            *material.voicings.values(),
            *material.patterns.values(),
            *material.sections.values(),
        )
        found = []
        for part in parts:
            for one in named(part):
                if one.defines and one.span.source.name in seen.files:
                    file = seen.files[one.span.source.name]
                    span = Span(
                        Source(str(file), one.span.source.text), one.span.start, one.span.end
                    )
                    found.append(Occurrence(file, span, one.kind, one.name, True))
        return tuple(found)

    def definition(self, path: FilePath, kind: NameKind, name: str) -> Occurrence | None:
        """Return where the name is given that a lesson means, None if it is given nowhere that can be read.

        Raises:
            LessonUnreadable: the file cannot be read.
        """
        for one in self.in_scope(path):
            if (one.kind, one.name) == (kind, name) and not self.texts.unread(one.path):
                return one
        return None

    def everywhere(self, path: FilePath, kind: NameKind, name: str) -> tuple[Occurrence, ...]:
        """Return all places where a name means what it means in a file: what has to change if it is renamed.

        They are in all files below the root that use the file or are based on it, in those that it names
        itself, and in what hangs on these, however far away. A lesson that has a thing of its own by that name
        is left out, unless something that is shared takes the lesson's own. They come in the order of the
        files, each in written order; none if the name does not stand in the file, nor in one that it names.

        Raises:
            LessonUnreadable: the file cannot be read.
            FretloomError: there are more lessons or folders below the root than are looked through.
        """
        file = resolved(Path(path))
        self.texts.text(file)
        start = {file, *self._meant(file, kind, name)}
        found = self._grown({one for one in start if self._has(one, kind, name)}, kind, name)
        return tuple(
            one
            for other in sorted(found)
            if not self.texts.unread(other)
            for one in self.in_file(other)
            if (one.kind, one.name) == (kind, name)
        )

    def _grown(self, together: set[Path], kind: NameKind, name: str) -> set[Path]:
        """Return the files in which a name means the same as in some, seen by all lessons that need one of them."""
        links: list[set[Path]] = []
        looked: set[Path] = set()
        while together:
            fresh = [one for one in self.texts.needing(together) if one not in looked]
            looked.update(fresh)
            for lesson in fresh:
                links += self._links(lesson, kind, name)
            grown = _joined(together, links)
            if grown == together:
                break
            together = grown
        return together

    def _meant(self, file: Path, kind: NameKind, name: str) -> Iterator[Path]:
        seen = self.texts.seen(file)
        meant = defined(gather(seen.lesson), kind, name)
        if meant is not None and meant.name_span is not None:
            yield seen.files[meant.name_span.source.name]

    def _links(self, lesson: Path, kind: NameKind, name: str) -> list[set[Path]]:
        """Return the files that one lesson brings together; where only one has the name there is nothing to bring."""
        if sum(self.texts.says(one, name) for one in self.texts.needs(lesson)) < 2:
            return []
        try:
            return brought_together(self.texts.seen(lesson), kind, name)
        except LessonUnreadable:
            return []

    def _has(self, file: Path, kind: NameKind, name: str) -> bool:
        if self.texts.unread(file):
            return False
        return any((one.kind, one.name) == (kind, name) for one in self.in_file(file))


def _joined(files: set[Path], links: Iterable[set[Path]]) -> set[Path]:
    """Return the files that sets of files join to some."""
    joined = set(files)
    waiting = list(links)
    while True:
        left = [one for one in waiting if joined.isdisjoint(one)]
        if len(left) == len(waiting):
            return joined
        for one in waiting:
            if not joined.isdisjoint(one):
                joined |= one
        waiting = left
