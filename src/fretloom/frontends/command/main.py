"""The command `fretloom`: parses arguments, calls the library, prints. Results go to stdout, messages to stderr.

Exit codes: 0 all well, 1 the lesson has faults, 2 the command could not run, 3 there is nothing to ease.
"""

from __future__ import annotations

import argparse
import gc
import os
import sys
from collections.abc import Callable, Sequence
from importlib import import_module
from typing import Any, NoReturn

from fretloom.errors import FretloomError, own_fault

_COULD_NOT_RUN = 2
_INTERRUPTED = 130
_MANY_OBJECTS = 50_000
_BROKEN_PIPE = 141

#: The commands, each a module of this folder, and what its help says it does.
_COMMANDS = {
    "check": "find the faults of lessons and say how to mend them",
    "export": "write a lesson as tab, notation or data",
    "format": "rewrite lessons in canonical form",
    "rename": "call a voicing, a pattern or a section otherwise in all files that use it",
    "handout": "write the pages that students take home, of a lesson or of a folder",
    "play-along": "write recordings to practise with, of each step and of the song",
    "sounds": "list the notes of every voicing and the names that fit it",
    "transpose": "write a lesson for another capo or other shapes",
    "practice": "say what to practise, step by step and day by day",
    "ease": "say for which level a lesson is, or write an easier one",
    "hands": "list voicings and changes from hard to easy, and why they are hard",
    "suggest": "suggest voicings of a chord, or a capo",
    "explain": "explain a rule",
    "config": "show what is settled for a collection, and where",
    "completion": "print what a shell completes the words of this command with",
    "language-server": "serve an editor, so that it shows faults while a lesson is typed",
}

#: Those whose modules are in a room of their own.
_ROOMS = {
    "check": "collection.",
    "completion": "shells.",
    "config": "collection.",
    "format": "collection.",
    "rename": "collection.",
    "handout": "students.",
    "language-server": "collection.",
    "play-along": "students.",
    "practice": "students.",
}


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command and return its exit code."""
    # Hardly anything dies before the command ends; looking for it often takes a tenth of a check.
    gc.set_threshold(_MANY_OBJECTS)
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            # What a terminal's encoding lacks is replaced, never a reason to stop.
            reconfigure(errors="replace")
    given = sys.argv[1:] if arguments is None else arguments
    try:
        options = _parser(given).parse_args(given)
        code: int = _module(options.command).run(options)
        if sys.stdout is not None:
            sys.stdout.flush()
        return code
    except FretloomError as error:
        _say(str(error))
        return _COULD_NOT_RUN
    except BrokenPipeError:
        # The reader has gone; nothing more may be written, not even when Python closes stdout.
        os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
        return _BROKEN_PIPE
    except KeyboardInterrupt:
        print("fretloom: interrupted", file=sys.stderr)
        return _INTERRUPTED
    except OSError as error:
        where = f"{error.filename}: " if error.filename else ""
        _say(f"the result could not be written: {where}{error.strerror or error}")
        return _COULD_NOT_RUN
    except Exception as error:  # A teacher gets a sentence, never a traceback.
        _say(own_fault(error))
        return _COULD_NOT_RUN


def _say(message: str) -> None:
    from fretloom.api import visible

    print(f"fretloom: {visible(message)}", file=sys.stderr)


class _Parser(argparse.ArgumentParser):
    """The parser of the standard library; what was typed is shown in its messages, not obeyed."""

    def error(self, message: str) -> NoReturn:
        from fretloom.api import visible

        super().error(visible(message))


def _parser(arguments: Sequence[str]) -> argparse.ArgumentParser:
    # No option before the command takes a value, so the first plain word is the command. Only its
    # own options are made, and only its own module is imported.
    wanted = next((word for word in arguments if not word.startswith("-")), None)
    return _parser_of(lambda name: name == wanted)


def whole_parser() -> argparse.ArgumentParser:
    """Return the parser with all commands and their options, for what is made from them."""
    return _parser_of(lambda _: True)


def _parser_of(wanted: Callable[[str], bool]) -> argparse.ArgumentParser:
    """Return the parser with the options of the commands that are wanted."""
    parser = _Parser(prog="fretloom", description="Check and publish fingerstyle guitar lessons.")
    parser.add_argument("-V", "--version", action=_Version, help="show the version and stop")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    for name, says in _COMMANDS.items():
        command = commands.add_parser(name, help=says)
        if wanted(name):
            _module(name).add_options(command)
    return parser


def _module(command: str) -> Any:
    """Return the module of a command: it has `add_options(parser)` and `run(options)`."""
    room = _ROOMS.get(command, "")
    return import_module(f"fretloom.frontends.command.{room}{command.replace('-', '_')}")


class _Version(argparse.Action):
    """Shows the version; looking it up takes time, so it is done only when asked for."""

    def __init__(self, option_strings: list[str], dest: str, help: str | None = None) -> None:
        super().__init__(option_strings, dest, nargs=0, help=help)

    def __call__(self, parser: argparse.ArgumentParser, *_: object) -> None:
        from fretloom import __version__

        print(f"fretloom {__version__}")
        parser.exit()


if __name__ == "__main__":
    sys.exit(main())
