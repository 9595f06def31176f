"""A voicing, a pattern or a section called otherwise in all files that mean it: worked out, proved, and then written.

In the texts only the names change, but that a file in canonical form stays in it: its tables are aligned
anew. Each file is read again as it would be: it has to say the same as before but
for the name, sound the same, and have the same findings.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from itertools import groupby
from pathlib import Path

from fretloom import api
from fretloom.api import Diagnostic, Examined, LessonFaulty
from fretloom.api.soundness import music_of
from fretloom.collection.configuration.finding import resolved
from fretloom.collection.naming.asked import AskedName, asked, shown_path
from fretloom.collection.naming.meaning import in_force
from fretloom.collection.naming.names import Names, Occurrence
from fretloom.collection.naming.texts import Seen
from fretloom.collection.naming.unread import refuse_unread
from fretloom.diagnostics import Edit
from fretloom.errors import FretloomError
from fretloom.files import Rewrite, rewrite_all
from fretloom.notation.model.walking.walk import NameKind
from fretloom.notation.renaming import called
from fretloom.source import Span
from fretloom.text import counted, shown_name
from fretloom.values import evolve, frozen


@frozen
class RenamedFile:
    """A file in which a name changes: its text before and after, and how many places are other."""

    path: Path
    old: str
    new: str
    places: int


@frozen
class Renaming:
    """What a renaming comes to, file by file; nothing is written yet. `gone` are findings that are no more."""

    asked: AskedName
    files: tuple[RenamedFile, ...]
    gone: tuple[Diagnostic, ...] = ()

    def write(self) -> None:
        """Write all files, or none.

        Raises:
            NotWritten: one of them cannot be written, or was changed meanwhile; all stay as they are.
        """
        rewrite_all([Rewrite(one.path, one.old, one.new) for one in self.files])


def renaming(
    names: Names,
    path: Path,
    old: str,
    new: str,
    kind: NameKind | None = None,
    despite_findings: bool = False,
) -> Renaming:
    """Work out what it takes to call a voicing, a pattern or a section otherwise in a collection.

    Args:
        names: of the collection as it is. path: of a lesson in which `old` is given, or in what it names.
        kind: if things of several kinds are called `old`.
        despite_findings: also if a check would find something else afterwards; the music stays in any case.

    Raises:
        LessonUnreadable: the file cannot be read.
        LessonFaulty: a file in which the name may stand could not be read completely, or a check would find
            something new in one; it carries the findings.
        FretloomError: there is no such name, nothing can be called `new`, something that is seen
            together with it is called so already, or a lesson would not sound the same.
    """
    file = resolved(path)
    what = asked(names, file, old, new, kind)
    places = names.everywhere(file, what.kind, what.old)
    refuse_unread(names, file, {one.path for one in places}, what.old)
    _refuse_taken(names, {file, *(one.path for one in places)}, what)
    files = tuple(_renamed(names, places, what.new))
    gone = _proved(names, files, places, what, despite_findings)
    return Renaming(what, tuple(_in_its_form(names, one) for one in files), gone)


def _renamed(names: Names, places: Iterable[Occurrence], new: str) -> Iterator[RenamedFile]:
    for path, group in groupby(places, key=lambda one: one.path):
        edits = [Edit(span=one.span, text=new, title="rename") for one in group]
        text = names.texts.text(path)
        yield RenamedFile(path, text, api.apply_edits(text, edits), len(edits))


def _in_its_form(names: Names, file: RenamedFile) -> RenamedFile:
    """Return a file with its tables aligned, if they were; formatting reads back what it writes."""
    names.texts.between()
    if api.formatted(names.lesson(file.path)) != file.old:
        return file
    return evolve(file, new=api.formatted(api.loads(file.new)))


def _refuse_taken(names: Names, files: set[Path], what: AskedName) -> None:
    """Refuse a new name that a lesson would see beside the old one.

    Raises:
        FretloomError: as said.
    """
    texts = names.texts
    for lesson in texts.needing(files):
        if not any(texts.says(one, what.new) for one in texts.needs(lesson)):
            continue
        seen = texts.seen(lesson)
        if what.kind == "pattern":
            _refuse_missed(seen, what.new)
        place = _taken(names, seen, lesson, what)
        if place is None or (lesson not in files and _is_apart(seen, lesson, what)):
            continue
        where = f"{shown_name(shown_path(seen.files[place.source.name]))}, line {place.line}"
        raise FretloomError(
            f"{what.new} is a name of a {what.kind} already: {where}; choose another"
        )


def _refuse_missed(seen: Seen, pattern: str) -> None:
    """Refuse a pattern the name of a voicing that is missing: it would be taken for what is meant in the bar.

    Raises:
        FretloomError: as said.
    """
    given, used = in_force(seen, "voicing", pattern)
    if used and not given:
        where = f"{shown_name(shown_path(seen.files[used[0].source.name]))}, line {used[0].line}"
        raise FretloomError(f"{pattern} is missed as a voicing: {where}; choose another name")


def _taken(names: Names, seen: Seen, lesson: Path, what: AskedName) -> Span | None:
    """Return a place where a lesson has the new name already."""
    given, used = in_force(seen, what.kind, what.new)
    own = [
        one.span for one in names.in_file(lesson) if (one.kind, one.name) == (what.kind, what.new)
    ]
    return next(iter((*given, *used, *own)), None)


def _is_apart(seen: Seen, lesson: Path, what: AskedName) -> bool:
    """Whether a lesson has a thing of its own by the new name, and makes no use of the one by the old name."""
    given, _ = in_force(seen, what.kind, what.new)
    _, used = in_force(seen, what.kind, what.old)
    return not used and any(seen.files[one.source.name] == lesson for one in given)


def _proved(
    names: Names,
    files: tuple[RenamedFile, ...],
    places: Iterable[Occurrence],
    what: AskedName,
    despite_findings: bool,
) -> tuple[Diagnostic, ...]:
    """Read every file again as it would be; returns the findings that are gone.

    Raises:
        LessonFaulty: there would be new findings.
        FretloomError: a lesson would say something else, or sound otherwise.
    """
    moved = _Moved.by(places, what)
    new: list[Diagnostic] = []
    gone: list[Diagnostic] = []
    changed = {one.path: one.new for one in files}
    for one in files:
        before = _examined(names, one.path, {})
        after = _examined(names, one.path, changed)
        shown = shown_name(shown_path(one.path))
        if after.lesson != called(before.lesson, what.kind, what.old, what.new):
            raise FretloomError(
                f"{what.new} would be read as something else in {shown}: choose another name"
            )
        clear = not any(found.music_undefined for found in before.findings)
        if clear and music_of(before) != music_of(after):
            raise FretloomError(_other_music(shown, what))
        was = Counter(moved.key(found) for found in _all_of(before))
        now = Counter(_key(found) for found in _all_of(after))
        new += [found for found in after.findings if now[_key(found)] > was[_key(found)]]
        gone += [
            found for found in before.findings if was[moved.key(found)] > now[moved.key(found)]
        ]
    if new and not despite_findings:
        finds = counted(len(new), "finding")
        raise LessonFaulty(
            f"after renaming there would be {finds} that there is not now", tuple(new)
        )
    return tuple(gone)


def _other_music(shown: str, what: AskedName) -> str:
    if what.kind == "voicing":
        return (
            f"{shown} would not sound the same: where a voicing has no `bass`, its name says which strings the "
            f"thumb plays; write the bass of {what.old} first, then rename it"
        )
    return f"{shown} would not sound the same, which is a fault of fretloom: please report it"


def _examined(names: Names, path: Path, changed: dict[Path, str]) -> Examined:
    names.texts.between()
    texts = names.texts.readable(names.texts.needs(path))
    texts |= {one: text for one, text in changed.items() if one in texts}
    name = shown_path(path)
    return api.examine(api.loads(texts[path], path=name, root=names.texts.root, texts=texts))


def _all_of(lesson: Examined) -> list[Diagnostic]:
    """Return all findings of a lesson, those that comments allow included."""
    return [*lesson.findings, *(one.finding for one in lesson.waived)]


_Key = tuple[str, str, Path, int]


def _key(found: Diagnostic) -> _Key:
    """Return what a finding is known by: its rule, how bad it is, its file and its place there."""
    return (
        found.rule,
        found.severity.value,
        resolved(Path(found.span.source.name)),
        found.span.start,
    )


@frozen
class _Moved:
    """Where what stood at a place before stands when names have another length."""

    starts: dict[Path, list[Span]]
    longer: dict[Path, list[int]]

    @classmethod
    def by(cls, places: Iterable[Occurrence], what: AskedName) -> _Moved:
        starts: dict[Path, list[Span]] = {}
        for one in places:
            starts.setdefault(one.path, []).append(one.span)
        longer = {
            path: [len(what.new) - (one.end - one.start) for one in spans]
            for path, spans in starts.items()
        }
        return cls(starts, longer)

    def key(self, found: Diagnostic) -> _Key:
        """Return what a finding will be known by."""
        rule, severity, path, start = _key(found)
        offset = 0
        for span, longer in zip(self.starts.get(path, ()), self.longer.get(path, ()), strict=True):
            if span.end <= start:
                offset += longer
            elif span.start < start:
                return rule, severity, path, span.start + offset
        return rule, severity, path, start + offset
