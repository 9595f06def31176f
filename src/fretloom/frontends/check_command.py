"""`fretloom check`: files and folders, in one process or two, reported in one of three ways."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

from attrs import field

from fretloom import api
from fretloom.diagnostics import Severity
from fretloom.errors import LessonUnreadable, own_fault
from fretloom.values import frozen

#: From so many files on, two processes pay for their start.
_MANY_FILES = 24
_CHUNK = 8


@frozen
class _Checked:
    """What is reported of one file: rendered findings, their severities, or why it was not read."""

    name: str
    findings: tuple[object, ...] = ()
    severities: tuple[Severity, ...] = ()
    unreadable: str = ""


@frozen
class _Task:
    """One file to check, and how."""

    name: str
    root: str
    format: str
    colour: bool


@frozen
class _Totals:
    """What was met so far."""

    severities: list[Severity] = field(factory=list)
    unreadable: list[dict[str, str]] = field(factory=list)
    findings: list[object] = field(factory=list)
    known: set[str] = field(factory=set)

    def new_of(self, checked: _Checked) -> list[object]:
        """Take in what a file brings, and return those findings that no file before it brought.

        A fault in a file that several lessons use is met with each of them.
        """
        fresh: list[object] = []
        for finding, severity in zip(checked.findings, checked.severities, strict=True):
            if str(finding) not in self.known:
                self.known.add(str(finding))
                self.severities.append(severity)
                fresh.append(finding)
        return fresh


def check_paths(options: argparse.Namespace) -> int:
    """Check all files named and print what was found; returns the exit code."""
    colour = options.format == "text" and _has_colour()
    tasks = [
        _Task(str(file), str(root), options.format, colour)
        for file, root in _files(options.paths, options.root)
    ]
    if not tasks:
        raise LessonUnreadable(f"there are no .lesson files in {', '.join(options.paths)}")
    totals = _Totals()
    for number, checked in enumerate(_results(tasks, options.jobs), 1):
        _progress(number, len(tasks))
        _show(checked, options.format, totals)
    _close(options.format, totals, len(tasks))
    if totals.unreadable:
        return 2
    counted = [severity for severity in totals.severities if severity is not Severity.INFO]
    if not options.strict:
        counted = [severity for severity in counted if severity is Severity.ERROR]
    return 1 if counted else 0


def _show(checked: _Checked, form: str, totals: _Totals) -> None:
    fresh = totals.new_of(checked)
    if checked.unreadable:
        totals.unreadable.append({"file": checked.name, "message": checked.unreadable})
        _clear_progress()
        print(f"fretloom: {checked.unreadable}", file=sys.stderr)
    if form == "json":
        totals.findings.extend(fresh)
    elif fresh:
        _clear_progress()
        print(*fresh, sep="\n\n" if form == "text" else "\n")
        if form == "text":
            print()


def _close(form: str, totals: _Totals, files: int) -> None:
    _clear_progress()
    read = files - len(totals.unreadable)
    if form == "json":
        from fretloom.report.json import report

        print(report(totals.findings, read, totals.unreadable), end="")  # type: ignore[arg-type]
    elif form == "text" and read:
        from fretloom.report.text import summary

        print(summary(totals.severities, read))


def _results(tasks: list[_Task], jobs: int | None) -> Iterable[_Checked]:
    """Check the files, in their order; two processes share the work when it is much."""
    if jobs is None:
        jobs = min(2, os.cpu_count() or 1) if len(tasks) >= _MANY_FILES else 1
    if jobs == 1 or len(tasks) == 1:
        return map(_check, tasks)
    return _in_processes(tasks, jobs)


def _in_processes(tasks: list[_Task], jobs: int) -> Iterator[_Checked]:
    from concurrent.futures import ProcessPoolExecutor

    with ProcessPoolExecutor(jobs) as pool:
        yield from pool.map(_check, tasks, chunksize=_CHUNK)


def _check(task: _Task) -> _Checked:
    try:
        found = api.check(api.load(task.name, root=task.root))
    except LessonUnreadable as error:
        return _Checked(task.name, unreadable=str(error))
    except Exception as error:  # One file must not keep the others from being checked.
        return _Checked(task.name, unreadable=f"{task.name}: {own_fault(error)}")
    severities = tuple(one.severity for one in found)
    if task.format == "json":
        from fretloom.report.json import finding

        return _Checked(task.name, tuple(map(finding, found)), severities)
    if task.format == "github":
        from fretloom.report.github import annotation

        return _Checked(task.name, tuple(map(annotation, found)), severities)
    from fretloom.report.text import render

    return _Checked(task.name, tuple(render(one, task.colour) for one in found), severities)


def _files(paths: list[str], root: str | None) -> Iterator[tuple[Path, Path]]:
    """Yield each file to check once, with the root of its collection."""
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
    inside = resolved(folder)
    for place, folders, names in os.walk(folder):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        for name in sorted(names):
            file = Path(place, name)
            if file.suffix == ".lesson" and resolved(file).is_relative_to(inside):
                yield file


def default_root(file: Path, root: str | None) -> Path:
    """Return the root of a single file's collection: as told, else the working folder if it is in it."""
    if root is not None:
        return Path(root)
    here = Path.cwd()
    return here if resolved(file).is_relative_to(resolved(here)) else file.parent


def resolved(path: Path) -> Path:
    """Follow all links; a path that leads in circles stays as it is and cannot be read later."""
    try:
        return path.resolve()
    except (OSError, RuntimeError):
        return path.absolute()


def _is_folder(path: Path) -> bool:
    try:
        return path.is_dir()
    except OSError as error:
        raise LessonUnreadable(f"{path} cannot be read: {error.strerror or error}") from error


def _has_colour() -> bool:
    return has_colour(sys.stdout)


def has_colour(stream: object) -> bool:
    """Whether a stream is a terminal that wants colour."""
    isatty = getattr(stream, "isatty", None)
    plain = os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb"
    return bool(isatty and isatty() and not plain)


def _progress(number: int, total: int) -> None:
    """Show how far a long check is, on a terminal only."""
    if total >= _MANY_FILES and number % _CHUNK == 0 and sys.stderr.isatty():
        print(f"\rchecked {number} of {total} files", end="", file=sys.stderr, flush=True)


def _clear_progress() -> None:
    if sys.stderr.isatty():
        print("\r\x1b[K", end="", file=sys.stderr, flush=True)
