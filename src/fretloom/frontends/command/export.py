"""`fretloom export`: a lesson in another format. The formats and their options are the library's."""

from __future__ import annotations

import argparse
import os
from collections.abc import Mapping, Sequence
from itertools import count, takewhile
from pathlib import Path, PurePath

from fretloom import api
from fretloom.api import Examined, FormatOptions, LessonFaulty, Option, Output
from fretloom.errors import FretloomError
from fretloom.frontends.command.terminal import (
    STDOUT,
    add_output,
    add_root,
    complain,
    errors_of,
    loaded,
    put,
    say,
)

#: Where the options of formats stand among what was typed, so that they clash with nothing.
_OF_FORMAT = "option of a format: "


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes, and what each format takes."""
    formats = api.known_formats()
    endings = ", ".join(form.ending for form in formats)
    parser.add_argument("file", metavar="FILE")
    parser.add_argument(
        "--to",
        choices=tuple(form.name for form in formats),
        help=f"default: by the ending of OUT ({endings})",
    )
    add_output(parser, "file or folder to write to")
    parser.add_argument(
        "--despite-errors",
        action="store_true",
        help="export a lesson with errors too, if it is clear what is played",
    )
    add_root(parser)
    for option, names in api.export_options().items():
        _add(parser, option, f"{', '.join(names)}: {option.says}")


def _add(parser: argparse.ArgumentParser, option: Option, says: str) -> None:
    """Add an option of a format; what is not typed is left to the format."""
    name = _OF_FORMAT + option.name
    if not option.kind.shown:
        parser.add_argument(
            option.switch, action="store_true", dest=name, default=argparse.SUPPRESS, help=says
        )
        return
    usual = f"; default: {option.default}" if option.default not in (None, ()) else ""
    parser.add_argument(
        option.switch,
        type=option.kind.read,
        dest=name,
        default=argparse.SUPPRESS,
        metavar=option.kind.shown,
        help=f"{says} ({option.kind.allowed}{usual})",
    )


def run(options: argparse.Namespace) -> int:
    """Export one lesson to a file, a folder or stdout; returns the exit code."""
    form = next(one for one in api.known_formats() if one.name == _form_of(options))
    wanted = {
        name.removeprefix(_OF_FORMAT): value
        for name, value in vars(options).items()
        if name.startswith(_OF_FORMAT)
    }
    chosen = _chosen(form.name, wanted)
    lesson = api.examine(loaded(options.file, options.root))
    try:
        outputs = api.export(lesson, form.name, chosen, despite_errors=options.despite_errors)
    except LessonFaulty as error:
        complain(error.diagnostics)
        say(f"{error}, so nothing was exported{_way_on(error, options.despite_errors)}")
        return 1
    if options.despite_errors:
        complain(errors_of(lesson.findings))
    _put_all(outputs, options.output, lesson, form.binary)
    for what in api.left_out_as_text(outputs):
        say(f"left out: {what}")
    return 0


def _way_on(error: LessonFaulty, despite_errors: bool) -> str:
    """Return what to do about a refused export, as the end of a sentence."""
    if despite_errors:
        return ""
    rules = {one.rule for one in error.diagnostics}
    known = {rule.name for rule in api.known_rules() if rule.waivable}
    if rules <= known:
        comment = f"# allow {min(rules)}: ..."
        return (
            f"; mend them, give a reason where they stand ({comment}), or export --despite-errors"
        )
    return "; mend them, or export --despite-errors"


def _chosen(form: str, wanted: Mapping[str, object]) -> FormatOptions:
    """Return the options of a format; a refusal calls them as they are typed."""
    takers: dict[str, list[str]] = {}
    for option, formats in api.export_options().items():
        takers.setdefault(option.name, []).extend(formats)
    for option in api.export_options():
        if option.name in wanted and form not in takers[option.name]:
            others = ", ".join(takers[option.name])
            raise FretloomError(f"{form} does not take {option.switch}: it is for {others}")
    try:
        return api.options_named(form, wanted)
    except FretloomError as error:
        words = str(error)
        for option in api.export_options():
            if words.startswith(f"{option.name} is "):
                raise FretloomError(option.switch + words.removeprefix(option.name)) from None
        raise


def _form_of(options: argparse.Namespace) -> str:
    """Return the format that was named, or that the ending of the output file stands for."""
    if options.to:
        return str(options.to)
    name = Path(options.output or "").name.lower()
    # The longest first: `.shapes.svg` is not `.svg`.
    for form in sorted(api.known_formats(), key=lambda one: -len(one.ending)):
        if name.endswith(form.ending):
            return form.name
    names = [form.name for form in api.known_formats()]
    raise FretloomError(f"say what to export: --to {', --to '.join(names)}")


def _other_pages(names: Sequence[str], folder: Path) -> list[str]:
    """Return the files of a folder that are called like pages of an export that had more of them, or one."""
    first, ending = PurePath(names[0]).stem, PurePath(names[0]).suffix
    several = len(names) > 1
    if several and not first.endswith("-1"):
        return []
    stem = first.removesuffix("-1") if several else first
    numbered = (f"{stem}-{page}{ending}" for page in count(len(names) + 1 if several else 1))
    found = [*takewhile(lambda name: (folder / name).exists(), numbered)]
    if several:
        return [*([f"{stem}{ending}"] if (folder / f"{stem}{ending}").exists() else []), *found]
    # A single one may be the export of a lesson with a number in its name.
    return found if len(found) > 1 else []


def _put_all(outputs: Sequence[Output], output: str | None, lesson: Examined, binary: bool) -> None:
    """Write one output to its file, or several into a folder under their own names."""
    if output and output != STDOUT and Path(output).is_dir():
        for one in outputs:
            put(one.content, str(Path(output) / one.name), lesson)
        if others := _other_pages([one.name for one in outputs], Path(output)):
            names = api.listed([api.shown_name(one) for one in others])
            say(
                f"{names} in the same folder: no page of this export, perhaps left of an earlier one"
            )
        return
    named = api.shown_name(output) if output and output != STDOUT else ""
    if named.endswith(("/", os.sep)):
        raise FretloomError(f"there is no folder {named}: make it first")
    if len(outputs) != 1:
        none = f"; {named} is none" if named else ""
        raise FretloomError(
            f"this makes {len(outputs)} files: name a folder that exists with -o{none}"
        )
    put(outputs[0].content, output, lesson, binary=binary)
