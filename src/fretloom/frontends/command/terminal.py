"""What the commands share: results to stdout or a file, findings and messages to stderr, and colour."""

from __future__ import annotations

import argparse
import os
import signal
import sys
import threading
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, NoReturn

from fretloom import api
from fretloom.api import Diagnostic, Examined, Lesson, LessonFaulty, Severity
from fretloom.collection.lessons import default_root
from fretloom.errors import FretloomError

if TYPE_CHECKING:
    from fretloom.api import Content

#: What stands for standard output where a file is named.
STDOUT = "-"
_MOST_JOBS = 64
_NOT_FOR_A_TERMINAL = "this format is not for the terminal: name a file with -o"


def add_root(parser: argparse.ArgumentParser) -> None:
    """Add the option that says which folder `use` and `based on` must stay in."""
    parser.add_argument(
        "--root",
        metavar="FOLDER",
        help="folder that `use` and `based on` must stay in (default: that of the nearest fretloom.toml above "
        "FILE, else the one you are in, if FILE is in it, else the folder of FILE)",
    )


def job_count(text: str) -> int:
    """Read how many processes share the work.

    Raises:
        argparse.ArgumentTypeError: it is not such a number.
    """
    number = api.whole_number(text, _MOST_JOBS)
    if not number:
        raise argparse.ArgumentTypeError(f"give a number from 1 to {_MOST_JOBS}")
    return number


def add_output(parser: argparse.ArgumentParser, says: str) -> None:
    """Add the option that names the file to write."""
    parser.add_argument("-o", "--output", metavar="OUT", help=f"{says} (default, or -: stdout)")


def loaded(file: str, root: str | None) -> Lesson:
    """Load the lesson that a command names."""
    return api.load(file, root=default_root(file, root))


def examined(file: str, root: str | None) -> tuple[Examined, int]:
    """Load a lesson and print its errors; the second value is the exit code."""
    lesson = api.examine(loaded(file, root))
    return lesson, 1 if complain_of(lesson) else 0


def has_colour(stream: object) -> bool:
    """Whether to colour what goes to a stream: on a terminal that shows it, or where that is forced.

    NO_COLOR (no-color.org) and FORCE_COLOR (force-color.org) count if they are not empty. Of both, NO_COLOR
    holds, as in Python's own programs: what is plain can always be read.
    """
    if os.environ.get("NO_COLOR"):
        return False
    if os.environ.get("FORCE_COLOR"):
        return True
    isatty = getattr(stream, "isatty", None)
    return bool(isatty and isatty() and os.environ.get("TERM") != "dumb")


def say(message: object) -> None:
    """Print a message to stderr, on one line that shows what is in it."""
    print(f"fretloom: {api.visible(str(message))}", file=sys.stderr)


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


def not_arranged(error: LessonFaulty, what: str, own: Sequence[Diagnostic]) -> int:
    """Say why a lesson was not written anew: its errors, or those it would have then; returns the exit code."""
    complain(error.diagnostics)
    way = "mend them first" if own else "choose another key or capo, or say --despite-findings"
    say(f"{error}, so it was not {what}; {way}")
    return 1


def add_format_options(
    parser: argparse.ArgumentParser,
    options: Iterable[api.Option],
    switches: Mapping[str, str] = MappingProxyType({}),
) -> None:
    """Add options of a format with their defaults; `switches` are those that are called otherwise here."""
    for option in options:
        name = switches.get(option.name, option.switch)
        if not option.kind.shown:
            parser.add_argument(name, dest=option.name, action="store_true", help=option.says)
            continue
        usual = f"; default: {option.default}" if option.default else ""
        parser.add_argument(
            name,
            dest=option.name,
            type=option.kind.read,
            default=option.default,
            metavar=option.kind.shown,
            help=f"{option.says} ({option.kind.allowed}{usual})",
        )


def as_typed(
    refusal: FretloomError, switches: Mapping[str, str] = MappingProxyType({})
) -> FretloomError:
    """Return the refusal of an option's value with the option as it is typed."""
    name, _, wrong = str(refusal).partition(" ")
    typed = switches.get(name) or "--" + name.replace("_", "-")
    return FretloomError(f"{typed} {wrong}")


@contextmanager
def stopped_cleanly() -> Iterator[None]:
    """Let a process that is asked to end (SIGTERM, SIGHUP) end as at a keyboard interrupt: no file is left half made.

    For long work in one process; what runs in another thread changes nothing.
    """

    def stop(*_: object) -> NoReturn:
        raise KeyboardInterrupt

    asked = [getattr(signal, name) for name in ("SIGTERM", "SIGHUP") if hasattr(signal, name)]
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = {one: signal.signal(one, stop) for one in asked}
    try:
        yield
    finally:
        for one, what in before.items():
            signal.signal(one, what)


def put(
    result: Content,
    output: str | None,
    made_from: Lesson | Examined | None = None,
    *,
    binary: bool = False,
) -> None:
    """Write a result, whole or in pieces, to a file, or to stdout where none is named.

    Raises:
        FretloomError: the file is one that was read for it, or bytes would go to a terminal.
        NotWritten: it could not be written.
    """
    if output is not None and output != STDOUT:
        if binary and _is_terminal(output):
            raise FretloomError(_NOT_FOR_A_TERMINAL)
        if made_from is not None:
            _refuse_what_was_read(output, made_from)
        api.write(output, result)
        print(f"wrote {api.shown_name(output)}", file=sys.stderr)
        return
    if binary and sys.stdout.isatty():
        raise FretloomError(_NOT_FOR_A_TERMINAL)
    sys.stdout.flush()
    for piece in (result,) if isinstance(result, str | bytes) else result:
        sys.stdout.buffer.write(piece.encode("utf-8") if isinstance(piece, str) else piece)
    sys.stdout.buffer.flush()


def _is_terminal(output: str) -> bool:
    """Whether a file that is named is a terminal, such as /dev/tty."""
    try:
        if not Path(output).is_char_device():
            return False
        with Path(output).open("wb", buffering=0) as file:
            return file.isatty()
    except (OSError, ValueError):  # Writing to it will say why not.
        return False


def _refuse_what_was_read(output: str, lesson: Lesson | Examined) -> None:
    """Refuse to write over the lesson, or over a file that it names, by whatever way it is named."""
    for name in api.files_named(lesson):
        try:
            same = Path(output).samefile(name)
        except (OSError, ValueError):  # One of them is not there.
            continue
        if same:
            what = f"is the same file as {api.shown_name(name)}, which this was made from"
            raise FretloomError(
                f"{api.shown_name(output)} {what}, and stays as it is: name another file with -o"
            )
