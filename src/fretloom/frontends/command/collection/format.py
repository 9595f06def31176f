"""`fretloom format`: lessons rewritten in canonical form."""

from __future__ import annotations

import argparse
from pathlib import Path

from fretloom import api
from fretloom.api import LessonFaulty
from fretloom.collection.lessons import lessons_in
from fretloom.errors import FretloomError, LessonUnreadable, NotWritten
from fretloom.frontends.command.terminal import complain, say

_COULD_NOT = 2


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    parser.add_argument("paths", nargs="+", metavar="PATH", help="lesson files, or folders of them")
    parser.add_argument(
        "--check", action="store_true", help="change nothing, only list the files that would change"
    )


def run(options: argparse.Namespace) -> int:
    """Rewrite files in canonical form, or with --check name those that are not; returns the exit code."""
    files = [file for file, _ in lessons_in(options.paths, None)]
    if not files:
        folders = ", ".join(map(api.shown_name, options.paths))
        raise LessonUnreadable(f"there are no .lesson files in {folders}")
    return max(_format(file, options.check) for file in files)


def _format(file: Path, only_check: bool) -> int:
    try:
        return _formatted(file, only_check)
    except (LessonUnreadable, NotWritten) as error:
        say(error)
        return _COULD_NOT
    except LessonFaulty as error:
        complain(error.diagnostics)
        say(f"{api.shown_name(file)} has faults and stays as it is; mend them first")
    except FretloomError as error:
        say(f"{api.shown_name(file)} stays as it is: {error}")
    return 1


def _formatted(file: Path, only_check: bool) -> int:
    lesson = api.load(file)
    old, new = api.text_of(lesson), api.formatted(lesson)
    if new == old:
        return 0
    if only_check:
        print(f"{api.shown_name(file)} is not in canonical form")
        return 1
    api.rewrite(file, old, new)
    print(f"{api.shown_name(file)} rewritten")
    return 0
