"""`fretloom hands`: what the hands have to do."""

from __future__ import annotations

import argparse

from fretloom import api
from fretloom.frontends.command.terminal import add_root, examined


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    parser.add_argument("file", metavar="FILE")
    parser.add_argument("--format", choices=("text", "json"), default="text")
    add_root(parser)


def run(options: argparse.Namespace) -> int:
    """Print the report on hands; returns the exit code."""
    lesson, code = examined(options.file, options.root)
    say = api.as_json if options.format == "json" else api.as_text
    print(say(api.hands(lesson)), end="")
    return code
