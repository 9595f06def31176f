"""`fretloom handout`: the pages that students take home, of a lesson or of a folder of lessons."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from fretloom import api
from fretloom.api import HandoutOptions
from fretloom.collection.handouts import (
    HandedOut,
    hand_out_all,
    left_over,
    need_pdf,
    refuse_what_is_not_ours,
    tasks_for,
    write_index,
)
from fretloom.collection.lessons import lessons_in
from fretloom.errors import FretloomError, LessonUnreadable
from fretloom.frontends.command.terminal import add_root, job_count, say

_LEVELS = ("beginner", "intermediate", "advanced")
#: Options that `fretloom practice` calls otherwise.
_ALSO = {"begin": ("--from",)}
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
        type=job_count,
        metavar="N",
        help="processes to share the work (default: 2 for many lessons)",
    )
    for option in _options():
        _add(parser, option)


def _add(parser: argparse.ArgumentParser, option: api.Option) -> None:
    """Add an option of handouts; what is not typed is left to the format."""
    names, shown = [option.switch, *_ALSO.get(option.name, ())], option.kind.shown
    if not shown:
        parser.add_argument(
            *names, action="store_true", default=argparse.SUPPRESS, help=option.says
        )
        return
    default = "all" if option.name == "sheet" else option.default
    usual = f"; default: {default}" if option.default else ""
    says = f"{option.says} ({option.kind.allowed}{usual})"
    parser.add_argument(
        *names, type=option.kind.read, default=argparse.SUPPRESS, metavar=shown, help=says
    )


def _options() -> list[api.Option]:
    return [option for option, names in api.export_options().items() if "handout" in names]


def run(options: argparse.Namespace) -> int:
    """Write the pages of all lessons named, and an index of a folder; returns the exit code."""
    if not options.output or (Path(options.output).exists() and not Path(options.output).is_dir()):
        raise FretloomError(f"-o {api.shown_name(options.output) or chr(34) * 2} is not a folder")
    lessons = list(lessons_in(options.paths, options.root))
    folders = [path for path in options.paths if Path(path).is_dir()]
    if not lessons:
        raise LessonUnreadable(
            f"there are no .lesson files in {', '.join(map(api.shown_name, options.paths))}"
        )
    sheets = _sheets(options)
    need_pdf(options.pdf)
    if folders:
        refuse_what_is_not_ours(Path(options.output, "index.html"))
    tasks = list(
        tasks_for(
            lessons,
            folders,
            options.output,
            sheets,
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
    if folders and not any(one.refused for one in made):
        _old(made, options.output)
    refused = [one for one in made if one.refused]
    if any(not one.faulty for one in refused):
        return 2
    return 1 if refused else 0


def _sheets(options: argparse.Namespace) -> list[HandoutOptions]:
    """Return the options of each page that is wanted: all sheets of a lesson, unless one is named."""
    given = {
        option.name: getattr(options, option.name)
        for option in _options()
        if hasattr(options, option.name)
    }
    chosen = HandoutOptions(**given)
    if chosen.parts and chosen.sheet != "handout":
        raise FretloomError(f"--parts are of the handout, not of the {chosen.sheet}")
    sheets = ("handout", "song-sheet", "wall-card")
    if "sheet" in given or chosen.parts:
        return [chosen]
    return [HandoutOptions(**{**given, "sheet": sheet}) for sheet in sheets]


def _progress(number: int, total: int, one: HandedOut) -> None:
    """Print what is wrong with a lesson, and how far the work is, on a terminal."""
    terminal = total >= _MANY and sys.stderr is not None and sys.stderr.isatty()
    if terminal:
        print("\r\x1b[K", end="", file=sys.stderr)
    for complaint in one.complaints:
        print(complaint, end="\n\n", file=sys.stderr)
    if one.refused:
        say(f"{one.name}: {one.refused}")
        say(f"nothing was handed out of {one.name}")
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
    refused = any(one.refused for one in made)
    index = Path(options.output, "index.html")
    if folder and refused and index.exists():
        say(
            f"{api.shown_name(str(index))} was left as it is, since not all lessons were handed out"
        )
    elif folder and entries:
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


def _old(made: list[HandedOut], output: str) -> None:
    """Name the pages that stand there and that no lesson makes any more."""
    for file in left_over(output, made):
        say(f"{api.shown_name(file)} is of no lesson here any more; remove it if it is not wanted")
