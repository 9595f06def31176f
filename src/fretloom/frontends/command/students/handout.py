"""`fretloom handout`: the pages that students take home, of a lesson or of a folder of lessons."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from fretloom import api
from fretloom.api import HandoutOptions
from fretloom.collection.handouts import HandedOut, hand_out_all, tasks_for, write_index
from fretloom.collection.lessons import lessons_in
from fretloom.errors import LessonUnreadable
from fretloom.frontends.command.terminal import add_root, say

_MOST_JOBS = 64
_LEVELS = ("beginner", "intermediate", "advanced")
#: From so many lessons on, a terminal shows how far the work is.
_MANY = 4


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    parser.add_argument("paths", nargs="+", metavar="PATH", help="lesson files, or folders of them")
    parser.add_argument(
        "-o", "--output", metavar="FOLDER", required=True, help="folder to write to; it is made"
    )
    parser.add_argument("--pdf", action="store_true", help="write a PDF of each page as well")
    add_root(parser)
    parser.add_argument(
        "--eased",
        choices=_LEVELS,
        help="hand out the easier lesson that `fretloom ease` writes for this level",
    )
    parser.add_argument(
        "--despite-errors",
        action="store_true",
        help="hand out a lesson with errors too, if it is clear what is played",
    )
    parser.add_argument(
        "--jobs",
        type=_jobs,
        metavar="N",
        help="processes to share the work (default: 2 for many lessons)",
    )
    for option in _options():
        _add(parser, option)


def _add(parser: argparse.ArgumentParser, option: api.Option) -> None:
    """Add an option of handouts; what is not typed is left to the format."""
    name, shown = option.switch, option.kind.shown
    if not shown:
        parser.add_argument(name, action="store_true", default=argparse.SUPPRESS, help=option.says)
        return
    default = "all" if option.name == "sheet" else option.default
    usual = f"; default: {default}" if option.default else ""
    says = f"{option.says} ({option.kind.allowed}{usual})"
    parser.add_argument(
        name, type=option.kind.read, default=argparse.SUPPRESS, metavar=shown, help=says
    )


def _options() -> list[api.Option]:
    return [option for option, names in api.export_options().items() if "handout" in names]


def _jobs(text: str) -> int:
    number = api.whole_number(text, _MOST_JOBS)
    if not number:
        raise argparse.ArgumentTypeError(f"give a number from 1 to {_MOST_JOBS}")
    return number


def run(options: argparse.Namespace) -> int:
    """Write the pages of all lessons named, and an index of a folder; returns the exit code."""
    lessons = list(lessons_in(options.paths, options.root))
    folders = [path for path in options.paths if Path(path).is_dir()]
    if not lessons:
        raise LessonUnreadable(
            f"there are no .lesson files in {', '.join(map(api.shown_name, options.paths))}"
        )
    tasks = list(
        tasks_for(
            lessons,
            folders,
            options.output,
            _sheets(options),
            pdf=options.pdf,
            despite_errors=options.despite_errors,
            eased=options.eased or "",
        )
    )
    made = []
    for number, one in enumerate(hand_out_all(tasks, options.jobs, say), 1):
        _progress(number, len(tasks), one)
        made.append(one)
    _report(made, options, bool(folders))
    return 1 if any(one.refused for one in made) else 0


def _sheets(options: argparse.Namespace) -> list[HandoutOptions]:
    """Return the options of each page that is wanted: all sheets of a lesson, unless one is named."""
    given = {
        option.name: getattr(options, option.name)
        for option in _options()
        if hasattr(options, option.name)
    }
    chosen = HandoutOptions(**given)
    sheets = ("handout", "song-sheet", "wall-card")
    if "sheet" in given or chosen.parts:
        return [chosen]
    return [HandoutOptions(**{**given, "sheet": sheet}) for sheet in sheets]


def _progress(number: int, total: int, one: HandedOut) -> None:
    """Print what is wrong with a lesson, and how far the work is, on a terminal."""
    terminal = sys.stderr.isatty() and total >= _MANY
    if terminal:
        print("\r\x1b[K", end="", file=sys.stderr)
    for complaint in one.complaints:
        print(complaint, end="\n\n", file=sys.stderr)
    if one.refused:
        say(f"{one.name}: {one.refused}, so nothing was handed out of it")
    if terminal:
        print(
            f"\r{number} of {total} lessons",
            end="" if number < total else "\r\x1b[K",
            file=sys.stderr,
            flush=True,
        )


def _report(made: list[HandedOut], options: argparse.Namespace, folder: bool) -> None:
    written = [file for one in made for file in one.written]
    kept = sum(len(one.kept) for one in made)
    entries = [one.entry for one in made if one.entry is not None]
    if folder and entries:
        file, changed = write_index(options.output, entries, _title(options.paths))
        written, kept = [*written, *[file] * changed], kept + (not changed)
    for name in written:
        print(f"wrote {api.shown_name(name)}", file=sys.stderr)
    if kept:
        what = "1 file was" if kept == 1 else f"{kept} files were"
        say(
            f"{what} as it should be, and left alone"
            if kept == 1
            else f"{what} as they should be, and left alone"
        )


def _title(paths: list[str]) -> str:
    names = [Path(path).resolve().name for path in paths if Path(path).is_dir()]
    plain = (names[0] if len(names) == 1 else "").replace("-", " ").replace("_", " ").strip()
    return plain[:1].upper() + plain[1:] if plain else "Lessons"
