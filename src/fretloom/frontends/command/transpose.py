"""`fretloom transpose`: a lesson with another capo or other shapes."""

from __future__ import annotations

import argparse
import sys

from fretloom import api
from fretloom.api import LessonFaulty
from fretloom.errors import FretloomError
from fretloom.frontends.command.terminal import add_root, complain, loaded, put


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    parser.add_argument("file", metavar="FILE")
    parser.add_argument(
        "--plays", metavar="KEY", help="shapes of this key; without --capo it sounds as before"
    )
    parser.add_argument(
        "--capo", type=_fret, help="fret of the capo; without --plays the shapes stay the same"
    )
    parser.add_argument("-o", "--output", metavar="OUT", help="file to write (default: stdout)")
    add_root(parser)


def _fret(text: str) -> int:
    if not text.isdigit() or int(text) > 24:
        raise argparse.ArgumentTypeError("give the fret the capo stands at, 0 for none")
    return int(text)


def run(options: argparse.Namespace) -> int:
    """Write a lesson in another key; remarks and faults go to stderr. Returns the exit code."""
    if options.plays is None and options.capo is None:
        raise FretloomError("say what to change: --plays KEY, --capo FRET, or both")
    lesson = loaded(options.file, options.root)
    try:
        found = api.transpose(lesson, plays=options.plays, capo=options.capo)
    except LessonFaulty as error:
        complain(error.diagnostics)
        print(f"fretloom: {error}, so it was not transposed; mend them first", file=sys.stderr)
        return 1
    for remark in api.as_text(found).splitlines():
        print(f"fretloom: {remark}", file=sys.stderr)
    put(api.dumps(found.lesson), options.output)
    return 0
