"""`fretloom explain`: the pages of the rules, in the terminal."""

from __future__ import annotations

import argparse

from fretloom import api


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    parser.add_argument(
        "name",
        nargs="?",
        help="name of a rule, or of a family of rules; leave it out to list them all",
    )


def run(options: argparse.Namespace) -> int:
    """Print the page of a rule, the rules of a family, or the list of all; returns the exit code."""
    print(api.rules_list() if options.name is None else api.explain(options.name))
    return 0
