"""`fretloom rename`: a voicing, a pattern or a section called otherwise, in all files that mean it."""

from __future__ import annotations

import argparse
from pathlib import Path

from fretloom import api
from fretloom.api import LessonFaulty
from fretloom.collection.lessons import default_root
from fretloom.collection.naming.asked import KINDS, shown_path
from fretloom.collection.naming.differences import as_diff
from fretloom.collection.naming.names import Names
from fretloom.collection.naming.renaming import renaming
from fretloom.frontends.command.terminal import add_root, complain, put, say


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    parser.add_argument("file", metavar="FILE", help="a lesson in which the name can be used")
    parser.add_argument("old", metavar="OLD", help="the name as it is")
    parser.add_argument("new", metavar="NEW", help="the name as it is to be")
    parser.add_argument(
        "--kind", choices=KINDS, help="what is renamed, if things of several kinds are called OLD"
    )
    parser.add_argument(
        "--dry-run",
        action="store_true",
        help="change nothing, show the differences (a unified diff)",
    )
    parser.add_argument(
        "--despite-findings",
        action="store_true",
        help="rename too if a check finds something afterwards that it does not find now",
    )
    add_root(parser)


def run(options: argparse.Namespace) -> int:
    """Rename in all files or in none; returns the exit code."""
    names = Names(default_root(options.file, options.root))
    try:
        found = renaming(
            names,
            Path(options.file),
            options.old,
            options.new,
            options.kind,
            options.despite_findings,
        )
    except LessonFaulty as error:
        complain(error.diagnostics)
        say(error)
        return 1
    for one in found.gone:
        say(f"a finding is gone: {one.message}")
    if options.dry_run:
        put(as_diff(found.files), None)
        return 0
    found.write()
    for file in found.files:
        places = "1 place" if file.places == 1 else f"{file.places} places"
        print(f"{api.shown_name(shown_path(file.path))}: {places}")
    return 0
