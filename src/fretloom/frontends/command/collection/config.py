"""`fretloom config`: what is settled for a collection, and where."""

from __future__ import annotations

import argparse
from pathlib import Path

from fretloom import api
from fretloom.collection.configuration.showing import as_lines
from fretloom.collection.lessons import Roots
from fretloom.errors import LessonUnreadable

_ANY = "any.lesson"


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    parser.add_argument(
        "path", nargs="?", default=".", metavar="PATH", help="a lesson or a folder (default: .)"
    )


def run(options: argparse.Namespace) -> int:
    """Print what holds for a lesson or a folder; returns the exit code."""
    path = Path(options.path)
    try:
        there, folder = path.exists(), path.is_dir()
    except (OSError, ValueError):
        there = folder = False
    if not there:
        raise LessonUnreadable(f"there is no file or folder {api.shown_name(options.path)}")
    found = Roots(None).found(path / _ANY if folder else path)
    for line in as_lines(found.configuration, found.root):
        print(line)
    if found.left_out is not None and not folder:
        pattern = api.shown_name(found.left_out.pattern)
        print(f"{api.shown_name(path)} is left out, by {pattern}")
    return 0
