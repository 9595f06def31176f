"""The options of `fretloom check`, and which of them do not go together."""

from __future__ import annotations

import argparse

from fretloom import api
from fretloom.collection.reporting import FORMS
from fretloom.errors import FretloomError
from fretloom.frontends.command.terminal import add_root, job_count

STDIN = "-"
_MOST_WARNINGS = 1_000_000


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    parser.add_argument(
        "paths", nargs="+", metavar="PATH", help="lesson files, folders of them, or - for stdin"
    )
    parser.add_argument("--name", metavar="FILE", help="the file that the text on stdin belongs in")
    _add_choices(parser)
    _add_reports(parser)
    parser.add_argument(
        "--fix", action="store_true", help="first make the sure changes that findings carry"
    )
    parser.add_argument(
        "--watch", action="store_true", help="check again whenever a file changes, until Ctrl-C"
    )
    add_root(parser)
    parser.add_argument(
        "--jobs",
        type=job_count,
        metavar="N",
        help="how many processes share the work (default: 2 for many files)",
    )
    parser.add_argument(
        "--cache", metavar="FOLDER", help="where results are kept (default: your folder for caches)"
    )
    parser.add_argument("--no-cache", action="store_true", help="keep no results, and use none")


def _add_choices(parser: argparse.ArgumentParser) -> None:
    """Add what says which lessons are checked, what counts, and what is known already."""
    parser.add_argument(
        "--changed",
        metavar="REV",
        help="only lessons that changed since this git revision, or that need a file that did",
    )
    for name, says in (("select", "report only these"), ("ignore", "do not report these")):
        parser.add_argument(
            f"--{name}",
            metavar="RULES",
            action="append",
            help=f"{says} rules or families, with commas between them",
        )
    parser.add_argument("--strict", action="store_true", help="count warnings as errors")
    parser.add_argument(
        "--max-warnings", metavar="N", type=_number, help="fail if there are more warnings"
    )
    parser.add_argument("--baseline", metavar="FILE", help="report only what is not in this file")
    parser.add_argument(
        "--write-baseline", action="store_true", help="write what is found to the baseline"
    )


def _add_reports(parser: argparse.ArgumentParser) -> None:
    """Add what says how findings are reported, and where."""
    parser.add_argument("--format", choices=FORMS, default="text")
    parser.add_argument(
        "-o", "--output", metavar="OUT", help="where findings go (default, or -: stdout)"
    )
    parser.add_argument(
        "--statistics", action="store_true", help="show how often each rule was broken"
    )
    parser.add_argument(
        "-q", "--quiet", action="store_true", help="show findings and failures, and nothing else"
    )


def refuse_contradictions(options: argparse.Namespace) -> None:
    """Refuse options that do not go together.

    Raises:
        FretloomError: some do not.
    """
    stdin = STDIN in options.paths
    if options.write_baseline and not options.baseline:
        raise FretloomError("--write-baseline writes the file that --baseline names: name one")
    if options.write_baseline and options.changed is not None:
        raise FretloomError("a baseline of what --changed leaves would lack the rest: leave one out")  # fmt: skip
    if options.name is not None and not stdin:
        raise FretloomError("--name is for a text on standard input: give - as PATH")
    for word in ("changed", "fix", "watch"):
        if stdin and getattr(options, word) not in (None, False):
            raise FretloomError(f"--{word} is for files, not for standard input")
    if options.watch and options.write_baseline:
        raise FretloomError("--watch and --write-baseline do not go together: leave one out")
    if options.cache and options.no_cache:
        raise FretloomError("--cache and --no-cache contradict each other")


def _number(text: str) -> int:
    number = api.whole_number(text, _MOST_WARNINGS)
    if number is None:
        raise argparse.ArgumentTypeError(f"give a number from 0 to {_MOST_WARNINGS}")
    return number
