"""`fretloom ease`: for which level a lesson is, and an easier lesson based on it."""

from __future__ import annotations

import argparse
import os
from pathlib import Path

from fretloom import api
from fretloom.api import LessonFaulty
from fretloom.errors import FretloomError
from fretloom.frontends.command.terminal import (
    STDOUT,
    add_output,
    add_root,
    complain,
    errors_of,
    examined,
    loaded,
    put,
    say,
)

_LEVELS = ("beginner", "intermediate", "advanced")
#: The exit code where there is nothing to write.
_NOTHING = 3


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    parser.add_argument("file", metavar="FILE")
    parser.add_argument(
        "--level",
        choices=_LEVELS,
        help="write an easier lesson for it (without: say what is beyond each level)",
    )
    parser.add_argument("--format", choices=("text", "json"), default="text")
    parser.add_argument(
        "--despite-findings",
        action="store_true",
        help="write it too if a check finds something in it that it does not find in FILE",
    )
    add_output(parser, "file to write the easier lesson to")
    add_root(parser)


def run(options: argparse.Namespace) -> int:
    """Print what is beyond each level, or write an easier lesson; what is different goes to stderr.

    Returns the exit code, 3 where nothing has to be or can be easier.
    """
    if options.level is None:
        if options.output is not None:
            raise FretloomError("say for whom it is to be easier: --level beginner")
        return _print_levels(options)
    lesson = api.examine(loaded(options.file, options.root))
    try:
        found = api.ease(
            lesson,
            level=options.level,
            based_on=_path_from(options.file, options.output),
            despite_findings=options.despite_findings,
        )
    except LessonFaulty as error:
        complain(error.diagnostics)
        way = "mend them first" if errors_of(lesson.findings) else "say --despite-findings"
        say(f"{error}, so no easier one was written; {way}")
        return 1
    _put(found, lesson, options)
    return _NOTHING if found.lesson is None else 0


def _print_levels(options: argparse.Namespace) -> int:
    lesson, code = examined(options.file, options.root)
    found = api.levels(lesson)
    print(api.as_json(found) if options.format == "json" else api.as_text(found), end="")
    return code


def _put(found: api.Eased, lesson: api.Examined, options: argparse.Namespace) -> None:
    """Write the lesson and say what is different; as JSON both are one document on stdout."""
    to_file = options.output not in (None, STDOUT)
    if found.lesson is not None and (to_file or options.format == "text"):
        put(api.dumps(found.lesson), options.output, lesson)
    if options.format == "json":
        print(api.as_json(found), end="")
        return
    for line in api.as_text(found).splitlines():
        say(line)


def _path_from(file: str, output: str | None) -> str:
    """Return the path of a lesson as a file beside or around it names it."""
    if output in (None, STDOUT):
        return Path(file).name
    try:
        path = os.path.relpath(Path(file).absolute(), Path(output or "").absolute().parent)
    except ValueError as error:  # Another drive.
        raise FretloomError(f"{output} cannot name {file}: write it to the same drive") from error
    return Path(path).as_posix()
