"""What the commands share: results to stdout or a file, findings to stderr, and colour."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Iterable
from typing import TYPE_CHECKING

from fretloom import api
from fretloom.api import Diagnostic, Examined, Lesson, Severity
from fretloom.collection.lessons import default_root
from fretloom.errors import FretloomError

if TYPE_CHECKING:
    from fretloom.api import Content


def add_root(parser: argparse.ArgumentParser) -> None:
    """Add the option that says which folder `use` and `based on` must stay in."""
    parser.add_argument("--root", help="folder that `use` and `based on` must stay in")


def loaded(file: str, root: str | None) -> Lesson:
    """Load the lesson that a command names."""
    return api.load(file, root=default_root(file, root))


def examined(file: str, root: str | None) -> tuple[Examined, int]:
    """Load a lesson and print its errors; the second value is the exit code."""
    lesson = api.examine(loaded(file, root))
    return lesson, 1 if complain_of(lesson) else 0


def has_colour(stream: object) -> bool:
    """Whether a stream is a terminal that shows colour."""
    isatty = getattr(stream, "isatty", None)
    plain = os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb"
    return bool(isatty and isatty() and not plain)


def complain(found: Iterable[Diagnostic]) -> None:
    """Print findings to stderr."""
    for one in found:
        print(api.finding_as_text(one, has_colour(sys.stderr)), end="\n\n", file=sys.stderr)


def errors_of(found: Iterable[Diagnostic]) -> list[Diagnostic]:
    """Return the errors among findings."""
    return [one for one in found if one.severity is Severity.ERROR]


def complain_of(lesson: Examined) -> bool:
    """Print the errors that make it unclear what is played to stderr; returns whether there are any."""
    errors = errors_of([*lesson.lesson.faults, *api.faults(lesson)])
    complain(errors)
    return bool(errors)


def put(result: Content, output: str | None, *, binary: bool = False) -> None:
    """Write a result, whole or in pieces, to a file, or to stdout where none is named."""
    if output is not None:
        api.write(output, result)
        print(f"wrote {output}", file=sys.stderr)
        return
    if binary and sys.stdout.isatty():
        raise FretloomError("this format is not for the terminal: name a file with -o")
    sys.stdout.flush()
    for piece in (result,) if isinstance(result, str | bytes) else result:
        sys.stdout.buffer.write(piece.encode("utf-8") if isinstance(piece, str) else piece)
    sys.stdout.buffer.flush()
