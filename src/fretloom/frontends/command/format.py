"""`fretloom format`: lessons rewritten in canonical form."""

from __future__ import annotations

import argparse
import sys

from fretloom import api
from fretloom.errors import LessonUnreadable
from fretloom.frontends.command.terminal import complain


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    parser.add_argument("files", nargs="+", metavar="FILE")
    parser.add_argument(
        "--check", action="store_true", help="change nothing, only list the files that would change"
    )


def run(options: argparse.Namespace) -> int:
    """Rewrite files in canonical form, or with --check name those that are not; returns the exit code."""
    code = 0
    for name in options.files:
        try:
            code = max(code, _format(name, options.check))
        except LessonUnreadable as error:
            print(f"fretloom: {error}", file=sys.stderr)
            code = 2
    return code


def _format(file: str, only_check: bool) -> int:
    lesson = api.load(file)
    faults = api.reading_faults(lesson)
    if faults:
        complain(faults)
        print(f"fretloom: {file} has faults and stays as it is; mend them first", file=sys.stderr)
        return 1
    formatted = api.dumps(lesson)
    if lesson.source is not None and formatted == lesson.source.text:
        return 0
    if only_check:
        print(f"{file} is not in canonical form")
        return 1
    api.write(file, formatted)
    print(f"{file} rewritten")
    return 0
