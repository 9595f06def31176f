"""The files that a lesson names by `use` and `based on`: looked up, and noted where they are missing.

Nothing outside the root folder of the collection is ever read, not even through links in the file
system. What is wrong with a named file is a fault of the line that names it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path

from attrs import field

from fretloom.characters import composed
from fretloom.diagnostics import Diagnostic, Edit
from fretloom.edits import without_line
from fretloom.errors import LessonUnreadable
from fretloom.files import read_text
from fretloom.limits import LIMITS
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.syntax.read import read
from fretloom.rule_facts import Severity, find_rule
from fretloom.source import Source, Span
from fretloom.text import only_near, shown_name
from fretloom.values import evolve, frozen


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
    faults = [_homeless(path, span) for path, span in wanted if span.start not in told]
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
    """The files below `root`, each read once."""

    root: Path
    done: dict[Path, Lesson] = field(factory=dict)

    def linked(self, lesson: Lesson, file: Path, trail: tuple[Path, ...]) -> Lesson:
        """Return the lesson with all lessons it names; `trail` leads from the first file to it."""
        linked: dict[str, Lesson] = {}
        faults: list[Diagnostic] = []
        for path, span in links(lesson):
            found = self.follow(path, span, file, trail)
            if isinstance(found, Diagnostic):
                faults.append(found)
            else:
                linked[path] = found
                faults.extend(_own_faults(found, path, span))
        return evolve(_with_faults(lesson, faults), linked=linked) if linked or faults else lesson

    def follow(
        self, path: str, span: Span, file: Path, trail: tuple[Path, ...]
    ) -> Lesson | Diagnostic:
        """Return the lesson that a line names, or what is wrong with that line."""
        if not path.strip():
            return _unnamed(span)
        target = resolved(_as_spelt_there(file.parent / path))
        if "\0" in path or Path(path).is_absolute() or not target.is_relative_to(self.root):
            return _outside(path, span, self.root, trail)
        if target.suffix != ".lesson":
            return _no_lesson(path, span, target)
        if target in trail:
            return _cycle([*trail[trail.index(target) :], target], span, self.root)
        if len(trail) >= LIMITS.links:
            return _too_long(path, span)
        if target not in self.done:
            try:
                text = read_text(target)
            except LessonUnreadable as error:
                return _unreadable(path, span, target, error)
            lesson = read(Source(self.shown(span, path), text))
            self.done[target] = self.linked(lesson, target, (*trail, target))
        return self.done[target]

    def shown(self, span: Span, path: str) -> str:
        """Name a file the way the file that names it is named."""
        return str(Path(span.source.name).parent / path)


def resolved(path: Path) -> Path:
    """Follow all links; a path that leads in circles stays as it is, and is not found later."""
    try:
        return path.resolve()
    except (OSError, RuntimeError, ValueError):
        return path.absolute()


def _with_faults(lesson: Lesson, faults: list[Diagnostic]) -> Lesson:
    return evolve(lesson, faults=(*lesson.faults, *faults)) if faults else lesson


def _fault(
    rule: str, span: Span, message: str, hint: str, edits: tuple[Edit, ...] = ()
) -> Diagnostic:
    return Diagnostic(
        rule=rule,
        severity=Severity.ERROR,
        message=message,
        span=span,
        hint=hint,
        edits=edits,
    )


def _homeless(path: str, span: Span) -> Diagnostic:
    message = f'"{path}" was not looked up: nobody said where this lesson lives'
    hint = "load the lesson from its file, or name its path or root when you read or link it"
    return _fault("file-not-found", span, message, hint)


def _unnamed(span: Span) -> Diagnostic:
    hint = 'write the path of a lesson file, such as "voicings/open.lesson", or remove this line'
    return _fault("file-not-found", span, "no file is named between the quotation marks", hint)


def _outside(path: str, span: Span, root: Path, trail: tuple[Path, ...]) -> Diagnostic:
    why = "which was named as its root"
    if trail and root == trail[0].parent:
        why = f"where {trail[0].name} lies"
    elif root == _working_folder():
        why = "where you are"
    message = f'"{path}" lies outside the collection (the folder {root.name or root}, {why})'
    hint = "name a file below that folder, or check with --root and a folder that holds both files"
    return _fault("outside-the-collection", span, message, hint)


def _working_folder() -> Path | None:
    try:
        return resolved(Path.cwd())
    except OSError:  # It was removed.
        return None


def _as_spelt_there(target: Path) -> Path:
    """Return a path as the file system spells its last part, if only its accents are made up otherwise."""
    if target.name.isascii() or exists(target):
        return target
    name = composed(target.name)
    try:
        alike = (one for one in sorted(target.parent.iterdir()) if composed(one.name) == name)
        return next(alike, target)
    except (OSError, ValueError):
        return target


def _no_lesson(path: str, span: Span, target: Path) -> Diagnostic:
    message = f'"{path}" is not a lesson file: its name does not end in .lesson'
    edits: tuple[Edit, ...] = ()
    hint = "name a file whose name ends in .lesson"
    if is_folder(target):
        message, hint = f'"{path}" is a folder, not a lesson file', "name a file in it"
    elif exists(target.with_name(f"{target.name}.lesson")):
        hint, edits = f'did you mean "{path}.lesson"?', _renamed(span, path, f"{path}.lesson")
    return _fault("file-not-found", span, message, hint, edits)


def _cycle(files: list[Path], span: Span, root: Path) -> Diagnostic:
    names = [str(file.relative_to(root)) for file in files]
    message = "the files name one another in a circle: " + " → ".join(names)
    hint = "remove this line, or put what both need in a third file"
    if len(names) == 2:
        message = f"{names[0]} names itself"
        return _fault("use-cycle", span, message, hint, without_line(span))
    return _fault("use-cycle", span, message, hint)


def _too_long(path: str, span: Span) -> Diagnostic:
    message = f'"{path}" is at the end of a chain of more than {LIMITS.links} files that each name the next'
    return _fault("use-cycle", span, message, "name the files you need directly")


def _unreadable(path: str, span: Span, target: Path, error: LessonUnreadable) -> Diagnostic:
    from difflib import get_close_matches

    if exists(target) or _is_link(target):
        reason = str(error).replace(shown_name(target), f'"{path}"', 1)
        return _fault("file-not-found", span, reason, "name a lesson file that can be read")
    hint = "write the path as it is from this file's own folder"
    try:
        names = sorted(one.name for one in target.parent.glob("*.lesson") if one.is_file())
    except OSError:
        names = []
    near = get_close_matches(target.name, names, 1) or get_close_matches(
        f"{target.name}.lesson", names, 1
    )
    if near:
        parent = path.rpartition("/")[0]
        hint = f'did you mean "{parent}/{near[0]}"?' if parent else f'did you mean "{near[0]}"?'
    sure = only_near(target.stem, [one.removesuffix(".lesson") for one in names])
    edits = _renamed(span, path, f"{path.removesuffix(target.name)}{sure}.lesson") if sure else ()
    return _fault("file-not-found", span, f'there is no file "{path}"', hint, edits)


def _renamed(span: Span, path: str, meant: str) -> tuple[Edit, ...]:
    """Return the edit that writes another path, unless the old one is written with special signs."""
    if span.text != f'"{path}"' or not meant.isprintable() or set(meant) & set('"\\'):
        return ()
    return (Edit(span=span, text=f'"{meant}"', title=f'write "{meant}"'),)


def is_folder(target: Path) -> bool:
    """Whether there is such a folder; no path is too odd to ask."""
    try:
        return target.is_dir()
    except (OSError, ValueError):
        return False


def _is_link(target: Path) -> bool:
    try:
        return target.is_symlink()
    except (OSError, ValueError):
        return False


def exists(target: Path) -> bool:
    """Whether there is such a file or folder; no path is too odd to ask."""
    try:
        return target.exists()
    except (OSError, ValueError):  # The name is longer than any file's can be, or no name at all.
        return False


def _own_faults(found: Lesson, path: str, span: Span) -> Iterator[Diagnostic]:
    """Yield one fault, at the line that names a file, if the file has faults of its own."""
    errors = [fault for fault in found.faults if fault.severity is Severity.ERROR]
    if not errors:
        return
    first = errors[0]
    name = found.source.name if found.source else path
    if first.rule == "use-cycle":
        yield _fault("use-cycle", span, first.message, first.hint)
        return
    count = "a fault" if len(errors) == 1 else f"{len(errors)} faults"
    message = f'"{path}" has {count} of its own; on line {first.span.line}: {first.message}'
    yield _fault(
        "linked-file-faulty", span, message, f"mend that file first: fretloom check {name}"
    )
