"""`fretloom export`, `format`, `sounds` and `transpose`: commands that make text out of one file."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from fretloom import api
from fretloom.diagnostics import Diagnostic, Severity
from fretloom.errors import FretloomError, LessonFaulty, LessonUnreadable
from fretloom.files import read_text
from fretloom.frontends.check_command import default_root, has_colour
from fretloom.notation.model.lesson import Lesson


def export_file(options: argparse.Namespace) -> int:
    """Export one lesson to a file or to stdout; returns the exit code."""
    form = options.to or _form_of(options.output)
    file = Path(options.file)
    lesson = api.load(file, root=default_root(file, options.root))
    left_out: list[str] = []
    details: dict[str, Any] = {}
    if form == "tab":
        details = {"width": options.width, "unrolled": options.unrolled}
    elif form in ("musicxml", "mxl"):
        details = {"left_out": left_out}
    try:
        result = api.export(lesson, to=form, despite_errors=options.despite_errors, **details)
    except LessonFaulty as error:
        _complain(error.diagnostics)
        hint = "" if options.despite_errors else "; mend them, or export --despite-errors"
        print(f"fretloom: {error}, so nothing was exported{hint}", file=sys.stderr)
        return 1
    if options.despite_errors:
        _complain(_errors(api.check(lesson)))
    for what in left_out:
        print(f"fretloom: left out: {what}", file=sys.stderr)
    _put(result, options.output, binary=form == "mxl")
    return 0


def _form_of(output: str | None) -> str:
    """Tell the format by the ending of the file to write."""
    ending = Path(output or "").suffix.lower()
    for form, usual in api.FORMATS.items():
        if ending == usual:
            return form
    raise FretloomError(f"say what to export: --to {', --to '.join(api.FORMATS)}")


def _put(result: str | bytes, output: str | None, *, binary: bool) -> None:
    if output is not None:
        api.write(output, result)
        print(f"wrote {output}", file=sys.stderr)
        return
    if binary and sys.stdout.isatty():
        raise FretloomError("this format is not for the terminal: name a file with -o")
    data = result.encode("utf-8") if isinstance(result, str) else result
    sys.stdout.flush()
    sys.stdout.buffer.write(data)
    sys.stdout.buffer.flush()


def _complain(found: Iterable[Diagnostic]) -> None:
    from fretloom.report.text import render

    for one in found:
        print(render(one, has_colour(sys.stderr)), end="\n\n", file=sys.stderr)


def _errors(found: Iterable[Diagnostic]) -> list[Diagnostic]:
    return [one for one in found if one.severity is Severity.ERROR]


def complain_of(lesson: Lesson) -> bool:
    """Print the errors that leave open what is played to stderr; returns whether there are any."""
    errors = _errors([*lesson.faults, *api.faults(lesson)])
    _complain(errors)
    return bool(errors)


def print_sounds(options: argparse.Namespace) -> int:
    """Print what the voicings of one lesson sound; faults of the lesson go to stderr, exit code 1."""
    file = Path(options.file)
    lesson = api.load(file, root=default_root(file, options.root))
    faults = complain_of(lesson)
    print(api.sounds(lesson, form=options.format), end="")
    return 1 if faults else 0


def transpose_file(options: argparse.Namespace) -> int:
    """Write a lesson in another key; remarks and faults go to stderr. Returns the exit code."""
    if options.plays is None and options.capo is None:
        raise FretloomError("say what to change: --plays KEY, --capo FRET, or both")
    file = Path(options.file)
    lesson = api.load(file, root=default_root(file, options.root))
    try:
        text, remarks = api.transpose(lesson, plays=options.plays, capo=options.capo)
    except LessonFaulty as error:
        _complain(error.diagnostics)
        print(f"fretloom: {error}, so it was not transposed; mend them first", file=sys.stderr)
        return 1
    for remark in remarks:
        print(f"fretloom: {remark}", file=sys.stderr)
    _put(text, options.output, binary=False)
    return 0


def format_files(options: argparse.Namespace) -> int:
    """Rewrite files in canonical form, or with --check name those that are not; returns the exit code."""
    code = 0
    for name in options.files:
        try:
            code = max(code, _format(Path(name), options.check))
        except LessonUnreadable as error:
            print(f"fretloom: {error}", file=sys.stderr)
            code = 2
    return code


def _format(file: Path, only_check: bool) -> int:
    text = read_text(file)
    lesson = api.loads(text, name=str(file), root=file.parent)
    faults = _errors(_reading_faults(lesson))
    if faults:
        _complain(faults)
        print(f"fretloom: {file} has faults and stays as it is; mend them first", file=sys.stderr)
        return 1
    formatted = api.format_text(lesson)
    if formatted == text:
        return 0
    if only_check:
        print(f"{file} is not in canonical form")
        return 1
    api.write(file, formatted)
    print(f"{file} rewritten")
    return 0


def _reading_faults(lesson: Lesson) -> list[Diagnostic]:
    """Return the faults of the text itself; those of the files it names do not change its form."""
    from fretloom.rules.registry import rules_of

    about_links = {rule.name for rule in rules_of("links")}
    return [fault for fault in lesson.faults if fault.rule not in about_links]
