"""`fretloom check`: files and folders, reported in one of three forms."""

from __future__ import annotations

import argparse
import sys

from attrs import field

from fretloom import api
from fretloom.api import Severity
from fretloom.collection.checking import FORMS, Checked, Task, check_all
from fretloom.collection.lessons import lessons_in
from fretloom.collection.sharing import CHUNK, MANY_FILES
from fretloom.errors import LessonUnreadable
from fretloom.frontends.command.terminal import add_root, has_colour, job_count, say
from fretloom.values import frozen


@frozen
class _Totals:
    """What was found so far."""

    severities: list[Severity] = field(factory=list)
    unreadable: list[dict[str, str]] = field(factory=list)
    findings: list[object] = field(factory=list)
    known: set[str] = field(factory=set)

    def new_of(self, checked: Checked) -> list[object]:
        """Add the result for a file, and return the findings that are new.

        A fault in a file that several lessons use is found again with each of them.
        """
        fresh: list[object] = []
        for finding, severity in zip(checked.findings, checked.severities, strict=True):
            if str(finding) not in self.known:
                self.known.add(str(finding))
                self.severities.append(severity)
                fresh.append(finding)
        return fresh


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    parser.add_argument("paths", nargs="+", metavar="PATH", help="lesson files, or folders of them")
    parser.add_argument("--format", choices=FORMS, default="text")
    parser.add_argument("--strict", action="store_true", help="count warnings as errors")
    add_root(parser)
    parser.add_argument(
        "--jobs",
        type=job_count,
        help="how many processes share the work (default: 2 for many files)",
    )


def run(options: argparse.Namespace) -> int:
    """Check all files named and print what was found; returns the exit code."""
    colour = options.format == "text" and has_colour(sys.stdout)
    tasks = [
        Task(str(file), str(root), options.format, colour)
        for file, root in lessons_in(options.paths, options.root)
    ]
    if not tasks:
        folders = ", ".join(map(api.shown_name, options.paths))
        raise LessonUnreadable(f"there are no .lesson files in {folders}")
    totals = _Totals()
    for number, checked in enumerate(check_all(tasks, options.jobs, _remark), 1):
        _progress(number, len(tasks))
        _show(checked, options.format, totals)
    _close(options.format, totals, len(tasks))
    if totals.unreadable:
        return 2
    counted = [severity for severity in totals.severities if severity is not Severity.INFO]
    if not options.strict:
        counted = [severity for severity in counted if severity is Severity.ERROR]
    return 1 if counted else 0


def _show(checked: Checked, form: str, totals: _Totals) -> None:
    fresh = totals.new_of(checked)
    if checked.unreadable:
        totals.unreadable.append({"file": checked.name, "message": checked.unreadable})
        _clear_progress()
        say(checked.unreadable)
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
        print(api.findings_as_json(totals.findings, read, totals.unreadable), end="")  # type: ignore[arg-type]
    elif form == "text" and read:
        print(api.findings_summary(totals.severities, read))


def _progress(number: int, total: int) -> None:
    """Show the progress of a long check, on a terminal only."""
    if total >= MANY_FILES and number % CHUNK == 0 and sys.stderr.isatty():
        print(f"\rchecked {number} of {total} files", end="", file=sys.stderr, flush=True)


def _remark(text: str) -> None:
    _clear_progress()
    print(f"fretloom: {text}", file=sys.stderr)


def _clear_progress() -> None:
    if sys.stderr.isatty():
        print("\r\x1b[K", end="", file=sys.stderr, flush=True)
