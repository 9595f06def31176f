"""`fretloom transpose`: a lesson with another capo or other shapes."""

from __future__ import annotations

import argparse

from fretloom import api
from fretloom.api import LessonFaulty
from fretloom.errors import FretloomError
from fretloom.frontends.command.terminal import (
    add_output,
    add_root,
    errors_of,
    loaded,
    not_arranged,
    put,
    say,
)

_FRETS = 24


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    parser.add_argument("file", metavar="FILE")
    parser.add_argument(
        "--plays", metavar="KEY", help="shapes of this key; without --capo it sounds as before"
    )
    parser.add_argument(
        "--capo",
        type=_fret,
        metavar="FRET",
        help="fret of the capo; without --plays the shapes stay the same",
    )
    parser.add_argument(
        "--despite-findings",
        action="store_true",
        help="write it too if a check finds something in it that it does not find in FILE",
    )
    add_output(parser, "file to write")
    add_root(parser)


def _fret(text: str) -> int:
    fret = api.whole_number(text, _FRETS)
    if fret is None:
        raise argparse.ArgumentTypeError("give the fret the capo stands at, 0 for none")
    return fret


def run(options: argparse.Namespace) -> int:
    """Write a lesson in another key; remarks and faults go to stderr. Returns the exit code."""
    if options.plays is None and options.capo is None:
        raise FretloomError("say what to change: --plays KEY, --capo FRET, or both")
    lesson = api.examine(loaded(options.file, options.root))
    try:
        found = api.transpose(
            lesson,
            plays=options.plays,
            capo=options.capo,
            despite_findings=options.despite_findings,
        )
    except LessonFaulty as error:
        return not_arranged(error, "transposed", errors_of(lesson.findings))
    for remark in api.as_text(found).splitlines():
        say(remark)
    put(api.dumps(found.lesson), options.output, lesson)
    return 0
