"""`fretloom play-along`: recordings to practise with, of each step and of the song."""

from __future__ import annotations

import argparse
from pathlib import Path

from fretloom import api
from fretloom.api import LessonFaulty, RecordingOptions
from fretloom.errors import FretloomError
from fretloom.frontends.command.terminal import (
    STDOUT,
    add_format_options,
    add_root,
    as_typed,
    complain,
    errors_of,
    loaded,
    put,
    say,
    stopped_cleanly,
)

_KINDS = ("ogg", "flac", "wav")


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    parser.add_argument("file", metavar="FILE")
    parser.add_argument(
        "-o", "--output", metavar="FOLDER", required=True, help="folder to write to; it is made"
    )
    parser.add_argument(
        "--to", choices=_KINDS, default=_KINDS[0], help="kind of file; default: ogg"
    )
    parser.add_argument(
        "--without-count-in", action="store_true", help="begin at once, without a count"
    )
    parser.add_argument(
        "--captions", action="store_true", help="write the captions of each beside it (WebVTT)"
    )
    add_format_options(parser, _options())
    parser.add_argument(
        "--despite-errors",
        action="store_true",
        help="a lesson with errors too, if it is clear what is played",
    )
    add_root(parser)


def _options() -> tuple[api.Option, ...]:
    """Return the options of what is heard; the count is on here unless it is turned off."""
    return tuple(
        option
        for option, names in api.export_options().items()
        if "ogg" in names and option.name != "count_in"
    )


def run(options: argparse.Namespace) -> int:
    """Write the recordings into a folder; returns the exit code."""
    wanted = _wanted(options)
    if options.output == STDOUT:
        raise FretloomError("this makes several files: name a folder with -o")
    folder = Path(options.output)
    if not options.output or (folder.exists() and not folder.is_dir()):
        raise FretloomError(f"-o {api.shown_name(options.output) or chr(34) * 2} is not a folder")
    lesson = api.examine(loaded(options.file, options.root))
    try:
        made = api.play_along(
            lesson,
            options.to,
            wanted,
            captions=options.captions,
            despite_errors=options.despite_errors,
        )
    except LessonFaulty as error:
        complain(error.diagnostics)
        way = "" if options.despite_errors else ", or say --despite-errors"
        say(f"{error}, so there is nothing to play along with yet; mend them{way}")
        return 1
    if options.despite_errors:
        complain(errors_of(lesson.findings))
    with stopped_cleanly():
        for one in made:
            folder.mkdir(parents=True, exist_ok=True)
            put(one.content, str(folder / one.name), lesson)
    say("start with the volume low: loud sound can hurt hearing")
    return 0


def _wanted(options: argparse.Namespace) -> RecordingOptions:
    """Return what was asked for; a refusal calls options as they are typed."""
    given = {option.name: getattr(options, option.name) for option in _options()}
    try:
        return RecordingOptions(**given, count_in=not options.without_count_in)
    except FretloomError as error:
        raise as_typed(error) from None
