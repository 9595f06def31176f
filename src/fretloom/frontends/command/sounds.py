"""`fretloom sounds`: what every voicing of a lesson sounds."""

from __future__ import annotations

import argparse

from fretloom import api
from fretloom.frontends.command.terminal import add_root, complain_of, loaded


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    parser.add_argument("file", metavar="FILE")
    parser.add_argument("--format", choices=("text", "json"), default="text")
    add_root(parser)


def run(options: argparse.Namespace) -> int:
    """Print what the voicings of one lesson sound; faults of the lesson go to stderr, exit code 1."""
    lesson = api.examine(loaded(options.file, options.root))
    faults = complain_of(lesson)
    say = api.as_json if options.format == "json" else api.as_text
    print(say(api.sounds(lesson)), end="")
    return 1 if faults else 0
