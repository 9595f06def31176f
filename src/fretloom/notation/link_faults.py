"""What is wrong with a line that names a file: a finding for each way in which it can fail."""

from __future__ import annotations

from pathlib import Path

from fretloom.diagnostics import Diagnostic, Edit, Related
from fretloom.edits import without_line
from fretloom.errors import LessonUnreadable
from fretloom.limits import LIMITS
from fretloom.rule_facts import Severity
from fretloom.source import Span
from fretloom.text import near_names, only_near, shown_name

#: From this likeness on (0 to 1) a file is offered in place of one that is missing.
_ALIKE = 0.6


def resolved(path: Path) -> Path:
    """Follow all links; a path that leads in circles stays as it is, and is not found later."""
    try:
        return path.resolve()
    except (OSError, RuntimeError, ValueError):
        return path.absolute()


def fault(
    rule: str,
    span: Span,
    message: str,
    hint: str,
    edits: tuple[Edit, ...] = (),
    related: tuple[Related, ...] = (),
) -> Diagnostic:
    """Return an error at a line that names a file."""
    return Diagnostic(
        rule=rule,
        severity=Severity.ERROR,
        message=message,
        span=span,
        hint=hint,
        edits=edits,
        related=related,
    )


def homeless(path: str, span: Span) -> Diagnostic:
    """Say that a file was not looked up, since the lesson lives nowhere."""
    message = f'"{path}" was not looked up: nobody said where this lesson lives'
    hint = "load the lesson from its file, or name its path or root when you read or link it"
    return fault("file-not-found", span, message, hint)


def unnamed(span: Span) -> Diagnostic:
    """Say that nothing is named."""
    hint = 'write the path of a lesson file, such as "voicings/open.lesson", or remove this line'
    return fault("file-not-found", span, "no file is named between the quotation marks", hint)


def outside(path: str, span: Span, root: Path, trail: tuple[Path, ...]) -> Diagnostic:
    """Say that a file lies outside the root, and why that is the root."""
    why = "which is its root"
    if trail and root == trail[0].parent:
        why = f"where {trail[0].name} lies"
    elif root == _working_folder():
        why = "where you are"
    message = f'"{path}" lies outside the collection (the folder {root.name or root}, {why})'
    hint = "name a file below that folder, or check with --root and a folder that holds both files"
    return fault("outside-the-collection", span, message, hint)


def no_lesson(path: str, span: Span, target: Path) -> Diagnostic:
    """Say that a file's name does not end like a lesson's, and what was meant if that is there."""
    message = f'"{path}" is not a lesson file: its name does not end in .lesson'
    edits: tuple[Edit, ...] = ()
    hint = "name a file whose name ends in .lesson"
    if is_folder(target):
        message, hint = f'"{path}" is a folder, not a lesson file', "name a file in it"
    elif exists(target.with_name(f"{target.name}.lesson")):
        hint, edits = f'did you mean "{path}.lesson"?', _renamed(span, path, f"{path}.lesson")
    return fault("file-not-found", span, message, hint, edits)


def cycle(files: list[Path], span: Span, root: Path) -> Diagnostic:
    """Say that files name one another in a circle."""
    names = [str(file.relative_to(root)) for file in files]
    message = "the files name one another in a circle: " + " → ".join(names)
    hint = "remove this line, or put what both need in a third file"
    if len(names) == 2:
        message = f"{names[0]} names itself"
        return fault("use-cycle", span, message, hint, without_line(span))
    return fault("use-cycle", span, message, hint)


def too_long(path: str, span: Span) -> Diagnostic:
    """Say that too many files lead from one to the next."""
    message = f'"{path}" is at the end of a chain of more than {LIMITS.links} files that each name the next'
    return fault("use-cycle", span, message, "name the files you need directly")


def too_many(path: str, span: Span) -> Diagnostic:
    """Say that a lesson names too many files."""
    message = (
        f'"{path}" is not read: with all that they name in turn, no more than {LIMITS.files} files '
        f"are read for a lesson, of {LIMITS.characters:,} characters together"
    )
    return fault("file-not-found", span, message, "put what is used together into fewer files")


def unreadable(
    path: str, span: Span, target: Path, error: LessonUnreadable, names: list[str]
) -> Diagnostic:
    """Say why a file was not read; `names` are those of lessons beside it, likely ones first."""
    if exists(target) or _is_link(target):
        reason = str(error).replace(shown_name(target), f'"{path}"', 1)
        return fault("file-not-found", span, reason, "name a lesson file that can be read")
    hint = "write the path as it is from this file's own folder"
    near = near_names(target.name, names, 1, _ALIKE) or near_names(
        f"{target.name}.lesson", names, 1, _ALIKE
    )
    if near:
        parent = path.rpartition("/")[0]
        hint = f'did you mean "{parent}/{near[0]}"?' if parent else f'did you mean "{near[0]}"?'
    sure = only_near(target.stem, [one.removesuffix(".lesson") for one in names])
    edits = _renamed(span, path, f"{path.removesuffix(target.name)}{sure}.lesson") if sure else ()
    return fault("file-not-found", span, f'there is no file "{path}"', hint, edits)


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


def _working_folder() -> Path | None:
    try:
        return resolved(Path.cwd())
    except OSError:  # It was removed.
        return None
