"""The command `fretloom`: parses arguments, calls the library, prints. Results go to stdout, messages to stderr.

Exit codes: 0 all well, 1 the lesson has faults, 2 the command could not run.
"""

from __future__ import annotations

import argparse
import gc
import os
import sys
from collections.abc import Sequence
from typing import TypeAlias

from fretloom.errors import FretloomError, own_fault
from fretloom.frontends.command.hands import add_commands as add_hand_commands

_NO_ERROR, _FAULTS, _COULD_NOT_RUN = 0, 1, 2
_INTERRUPTED = 130
_MANY_OBJECTS = 50_000
_BROKEN_PIPE = 141


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command and return its exit code."""
    # Hardly anything dies before the command ends; looking for it often takes a tenth of a check.
    gc.set_threshold(_MANY_OBJECTS)
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            # What a terminal's encoding lacks is replaced, never a reason to stop.
            reconfigure(errors="replace")
    options = _parser().parse_args(arguments)
    try:
        code = _run(options)
        if sys.stdout is not None:
            sys.stdout.flush()
        return code
    except FretloomError as error:
        print(f"fretloom: {error}", file=sys.stderr)
        return _COULD_NOT_RUN
    except BrokenPipeError:
        # The reader has gone; nothing more may be written, not even when Python closes stdout.
        os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
        return _BROKEN_PIPE
    except KeyboardInterrupt:
        print("fretloom: interrupted", file=sys.stderr)
        return _INTERRUPTED
    except OSError as error:
        print(
            f"fretloom: the result could not be written: {error.strerror or error}", file=sys.stderr
        )
        return _COULD_NOT_RUN
    except Exception as error:  # A teacher gets a sentence, never a traceback.
        print(f"fretloom: {own_fault(error)}", file=sys.stderr)
        return _COULD_NOT_RUN


def _run(options: argparse.Namespace) -> int:
    """Call the command that was named; each is imported only when it is called."""
    if options.command == "check":
        from fretloom.frontends.command.check import check_paths

        return check_paths(options)
    if options.command == "export":
        from fretloom.frontends.command.files import export_file

        return export_file(options)
    if options.command == "format":
        from fretloom.frontends.command.files import format_files

        return format_files(options)
    if options.command == "sounds":
        from fretloom.frontends.command.files import print_sounds

        return print_sounds(options)
    if options.command == "transpose":
        from fretloom.frontends.command.files import transpose_file

        return transpose_file(options)
    if options.command == "hands":
        from fretloom.frontends.command.hands import print_hands

        return print_hands(options)
    if options.command == "suggest":
        from fretloom.frontends.command.hands import print_suggestion

        return print_suggestion(options)
    from fretloom.frontends.command.explain import explain

    return explain(options)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="fretloom", description="Check and publish fingerstyle guitar lessons."
    )
    parser.add_argument("--version", action=_Version, help="show the version and stop")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    _add_check(commands)
    _add_export(commands)
    _add_format(commands)
    _add_sounds(commands)
    _add_transpose(commands)
    add_hand_commands(commands)
    explain = commands.add_parser("explain", help="say what a rule is about")
    explain.add_argument("name", nargs="?", help="name of a rule; without it all are listed")
    return parser


class _Version(argparse.Action):
    """Shows the version; looking it up takes time, so it is done only when asked for."""

    def __init__(self, option_strings: list[str], dest: str, help: str | None = None) -> None:
        super().__init__(option_strings, dest, nargs=0, help=help)

    def __call__(self, parser: argparse.ArgumentParser, *_: object) -> None:
        from fretloom import __version__

        print(f"fretloom {__version__}")
        parser.exit()


_Commands: TypeAlias = "argparse._SubParsersAction[argparse.ArgumentParser]"


def _add_check(commands: _Commands) -> None:
    parser = commands.add_parser(
        "check", help="find the faults of lessons and say how to mend them"
    )
    parser.add_argument("paths", nargs="+", metavar="PATH", help="lesson files, or folders of them")
    parser.add_argument("--format", choices=("text", "json", "github"), default="text")
    parser.add_argument("--strict", action="store_true", help="let warnings count as errors")
    parser.add_argument(
        "--root", help="folder that `use` and `based on` never leave (default: the folder given)"
    )
    parser.add_argument(
        "--jobs",
        type=_positive,
        help="how many processes share the work (default: 2 if it is much)",
    )


def _add_export(commands: _Commands) -> None:
    parser = commands.add_parser("export", help="write a lesson as tab or notation")
    parser.add_argument("file", metavar="FILE")
    parser.add_argument(
        "--to", choices=("tab", "musicxml", "mxl", "json"), help="default: by the ending of OUT"
    )
    parser.add_argument("-o", "--output", metavar="OUT", help="file to write (default: stdout)")
    parser.add_argument(
        "--despite-errors", action="store_true", help="go on if it is clear what is played"
    )
    parser.add_argument("--width", type=_width, default=78, help="columns of a tab (default: 78)")
    parser.add_argument(
        "--unrolled", action="store_true", help="write out every bar of a tab as it is played"
    )
    parser.add_argument("--root", help="folder that `use` and `based on` never leave")


def _add_format(commands: _Commands) -> None:
    parser = commands.add_parser("format", help="rewrite lessons in canonical form")
    parser.add_argument("files", nargs="+", metavar="FILE")
    parser.add_argument(
        "--check", action="store_true", help="change nothing, only name the files that would change"
    )


def _add_sounds(commands: _Commands) -> None:
    parser = commands.add_parser(
        "sounds", help="say what every voicing sounds and which names are right for it"
    )
    parser.add_argument("file", metavar="FILE")
    parser.add_argument("--format", choices=("text", "json"), default="text")
    parser.add_argument("--root", help="folder that `use` and `based on` never leave")


def _add_transpose(commands: _Commands) -> None:
    parser = commands.add_parser(
        "transpose", help="write a lesson for another capo or other shapes"
    )
    parser.add_argument("file", metavar="FILE")
    parser.add_argument(
        "--plays", metavar="KEY", help="shapes of this key; without --capo it sounds as before"
    )
    parser.add_argument(
        "--capo", type=_fret, help="fret of the capo; without --plays the shapes stay"
    )
    parser.add_argument("-o", "--output", metavar="OUT", help="file to write (default: stdout)")
    parser.add_argument("--root", help="folder that `use` and `based on` never leave")


def _fret(text: str) -> int:
    if not text.isdigit() or int(text) > 24:
        raise argparse.ArgumentTypeError("give the fret the capo stands at, 0 for none")
    return int(text)


def _positive(text: str) -> int:
    if not text.isdigit() or not 1 <= int(text) <= 64:
        raise argparse.ArgumentTypeError("give a number from 1 to 64")
    return int(text)


def _width(text: str) -> int:
    if not text.isdigit() or not 20 <= int(text) <= 10_000:
        raise argparse.ArgumentTypeError("give a number of columns from 20 to 10000")
    return int(text)


if __name__ == "__main__":
    sys.exit(main())
