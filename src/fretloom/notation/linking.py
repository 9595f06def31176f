"""The files that a lesson names by `use` and `based on`: looked up, and noted where they are missing.

Nothing outside the root folder of the collection is ever read, not even through links in the file
system. What is wrong with a named file is a fault of the line that names it.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from functools import lru_cache
from pathlib import Path

from attrs import field

from fretloom.characters import composed
from fretloom.diagnostics import Diagnostic, Related
from fretloom.errors import LessonUnreadable
from fretloom.files import read_text
from fretloom.limits import LIMITS
from fretloom.notation.link_faults import (
    cycle,
    exists,
    fault,
    homeless,
    no_lesson,
    outside,
    resolved,
    too_long,
    too_many,
    unnamed,
    unreadable,
)
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.syntax.read import read
from fretloom.rule_facts import Severity, find_rule
from fretloom.source import Source, Span
from fretloom.values import evolve, frozen

#: So many texts of files that others name are kept as they were read, if they have no more characters than this.
_TEXTS_KEPT, _SHORT_TEXT = 64, 20_000


def links(lesson: Lesson) -> Iterator[tuple[str, Span]]:
    """Yield the paths that a lesson names, and where."""
    for use in lesson.uses:
        span = use.path_span or use.span
        if span is not None:
            yield use.path, span
    based = lesson.heading.setting("based") if lesson.heading else None
    if based is not None:
        span = based.value_span or based.span
        if span is not None:
            yield str(based.value), span


def unlinked_noted(lesson: Lesson) -> Lesson:
    """Note each line that names a file which is not linked, unless the line has a fault already."""
    wanted = [(path, span) for path, span in links(lesson) if path not in lesson.linked]
    if not wanted:
        return lesson
    told = {fault.span.start for fault in lesson.faults if of_links(fault)}
    faults = [homeless(path, span) for path, span in wanted if span.start not in told]
    return _with_faults(lesson, faults)


def linked_as_before(lesson: Lesson, linked: Mapping[str, Lesson]) -> Lesson:
    """Link a lesson that was read again to files read before, where it still names them."""
    named = {path: span for path, span in links(lesson) if path in linked}
    faults = [
        fault for path, span in named.items() for fault in _own_faults(linked[path], path, span)
    ]
    kept = {path: linked[path] for path in named}
    return unlinked_noted(evolve(_with_faults(lesson, faults), linked=kept))


def of_links(fault: Diagnostic) -> bool:
    """Whether a fault is about a line that names a file."""
    rule = find_rule(fault.rule)
    return rule is not None and rule.family == "links"


@frozen
class Collection:
    """The files below `root`, each read once, and no more of them than the limits allow.

    `sizes` are the characters of the files read. `folders` are the files that lie in folders,
    listed when needed; `failed` says of files why they cannot be read; `missing` are those that are not
    there, once for each line; `refused` the lines that name files
    beyond the limits. `texts` stand in place of what is in files: an editor's unsaved buffers, by their
    paths with links followed.
    """

    root: Path
    texts: Mapping[Path, str] = field(factory=dict)
    done: dict[Path, Lesson] = field(factory=dict)
    sizes: list[int] = field(factory=list)
    folders: dict[Path, dict[str, str]] = field(factory=dict)
    failed: dict[Path, LessonUnreadable] = field(factory=dict)
    missing: list[Path] = field(factory=list)
    refused: list[Span] = field(factory=list)

    def linked(self, lesson: Lesson, file: Path, trail: tuple[Path, ...]) -> Lesson:
        """Return the lesson with all lessons it names; `trail` leads from the first file to it."""
        linked: dict[str, Lesson] = {}
        faults: list[Diagnostic] = []
        for path, span in links(lesson):
            found = self.follow(path, span, file, trail)
            if isinstance(found, Diagnostic):
                faults.append(found)
            elif found is not None:
                linked[path] = found
                faults.extend(_own_faults(found, path, span))
        return evolve(_with_faults(lesson, faults), linked=linked) if linked or faults else lesson

    def follow(
        self, path: str, span: Span, file: Path, trail: tuple[Path, ...]
    ) -> Lesson | Diagnostic | None:
        """Return the lesson that a line names, or what is wrong with that line.

        None if there are too many files, which the first line says that names one too many.
        """
        if not path.strip():
            return unnamed(span)
        target = resolved(self.as_spelt_there(file.parent / path))
        if "\0" in path or Path(path).is_absolute() or not target.is_relative_to(self.root):
            return outside(path, span, self.root, trail)
        if target.suffix != ".lesson":
            return no_lesson(path, span, target)
        if target in trail:
            return cycle([*trail[trail.index(target) :], target], span, self.root)
        if len(trail) >= LIMITS.links:
            return too_long(path, span)
        if target not in self.done:
            full = len(self.sizes) >= LIMITS.files or sum(self.sizes) > LIMITS.characters
            if full and target not in self.failed and self.is_there(target):
                self.refused.append(span)
                return None if self.refused[1:] else too_many(path, span)
            text = self.text_of(target)
            if isinstance(text, LessonUnreadable):
                return unreadable(path, span, target, text, self.beside(target))
            lesson = _read(Source(self.shown(span, path), text))
            self.done[target] = self.linked(lesson, target, (*trail, target))
        return self.done[target]

    def is_there(self, target: Path) -> bool:
        """Whether there is a file, or a text in its place."""
        return target in self.texts or exists(target)

    def text_of(self, target: Path) -> str | LessonUnreadable:
        """Return what is in a file, or why it cannot be read; that is tried once."""
        if target not in self.failed:
            try:
                given = self.texts.get(target)
                text = read_text(target) if given is None else given
            except LessonUnreadable as error:
                self.failed[target] = error
                if exists(target):
                    self.sizes.append(0)
            else:
                self.sizes.append(len(text))
                return text
        return self.failed[target]

    def beside(self, target: Path) -> list[str]:
        """Return the names of the lessons that lie where a missing one should, likely ones first.

        There are none once very many are missing.
        """
        if self.is_there(target):
            return []
        self.missing.append(target)
        if len(self.missing) > LIMITS.hinted:
            return []
        first = target.name[:1].lower()
        lessons = [one for one in self.listed(target.parent).values() if one.endswith(".lesson")]
        return sorted(lessons, key=lambda name: name[:1].lower() != first)

    def listed(self, folder: Path) -> dict[str, str]:
        """Return the names of the files in a folder by their composed forms; it is looked into once."""
        if folder not in self.folders:
            try:
                with os.scandir(folder) as entries:
                    names = sorted(one.name for one in entries if one.is_file())
            except (OSError, ValueError):
                names = []
            self.folders[folder] = {composed(name): name for name in reversed(names)}
        return self.folders[folder]

    def as_spelt_there(self, target: Path) -> Path:
        """Return a path as the file system spells its last part, if only its accents are made up otherwise."""
        if target.name.isascii() or self.is_there(target):
            return target
        name = self.listed(target.parent).get(composed(target.name))
        return target.with_name(name) if name else target

    def shown(self, span: Span, path: str) -> str:
        """Name a file the way the file that names it is named."""
        return str(Path(span.source.name).parent / path)


def _read(source: Source) -> Lesson:
    """Read a text, or give again what was read of it for another lesson: many of a collection name the same files."""
    return _read_once(source) if len(source.text) <= _SHORT_TEXT else read(source)


@lru_cache(maxsize=_TEXTS_KEPT)
def _read_once(source: Source) -> Lesson:
    return read(source)


def _with_faults(lesson: Lesson, faults: list[Diagnostic]) -> Lesson:
    return evolve(lesson, faults=(*lesson.faults, *faults)) if faults else lesson


def _own_faults(found: Lesson, path: str, span: Span) -> Iterator[Diagnostic]:
    """Yield one fault, at the line that names a file, if the file has faults of its own."""
    errors = [fault for fault in found.faults if fault.severity is Severity.ERROR]
    if not errors:
        return
    first = errors[0]
    name = found.source.name if found.source else path
    if first.rule == "use-cycle":
        yield fault("use-cycle", span, first.message, first.hint)
        return
    count = "a fault" if len(errors) == 1 else f"{len(errors)} faults"
    message = f'"{path}" has {count} of its own; on line {first.span.line}: {first.message}'
    hint = f"mend that file first: fretloom check {name}"
    where = (Related(message="the first of its faults", span=first.span),)
    yield fault("linked-file-faulty", span, message, hint, related=where)
