"""`fretloom practice`: what to practise, step by step and day by day."""

from __future__ import annotations

import argparse
from typing import Any

from fretloom import api
from fretloom.api import LessonFaulty
from fretloom.errors import FretloomError
from fretloom.frontends.command.terminal import (
    add_format_options,
    add_root,
    as_typed,
    complain,
    errors_of,
    loaded,
    say,
)

#: Options that are called otherwise here than as options of the format.
_SWITCHES = {"begin": "--from"}


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    parser.add_argument("file", metavar="FILE")
    add_format_options(parser, _options(), _SWITCHES)
    parser.add_argument(
        "--knows",
        metavar="LESSON",
        action="append",
        default=[],
        help="a lesson that the student can play: what it asks for is not new (several times: several lessons)",
    )
    parser.add_argument("--format", choices=("text", "json"), default="text")
    parser.add_argument(
        "--despite-errors",
        action="store_true",
        help="a lesson with errors too, if it is clear what is played",
    )
    add_root(parser)


def _options() -> tuple[api.Option, ...]:
    return tuple(option for option, names in api.export_options().items() if "practice" in names)


def run(options: argparse.Namespace) -> int:
    """Print the practice path; returns the exit code."""
    wanted = _wanted(options)
    lesson = api.examine(loaded(options.file, options.root))
    known = [loaded(name, options.root) for name in options.knows]
    try:
        path = api.practice(lesson, **wanted, known=known, despite_errors=options.despite_errors)
    except LessonFaulty as error:
        complain(error.diagnostics)
        way = "" if options.despite_errors else ", or say --despite-errors"
        say(f"{error}, so there is nothing to practise yet; mend them{way}")
        return 1
    if options.despite_errors:
        complain(errors_of(lesson.findings))
    if options.format == "json":
        print(api.as_json(path), end="")
    else:
        print(api.practice_page(path, options.width), end="")
    return 0


def _wanted(options: argparse.Namespace) -> dict[str, Any]:
    """Return what was asked for, looked at before any file is read."""
    given = {option.name: getattr(options, option.name) for option in _options()}
    try:
        api.options_named("practice", given)
    except FretloomError as error:
        raise as_typed(error, _SWITCHES) from None
    return {
        name: value
        for name, value in given.items()
        if name != "width" and value is not None and (name, value) != ("level", "lesson")
    }
