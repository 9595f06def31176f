"""`fretloom export`, `format`, `sounds` and `transpose`: commands that make text out of one file."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import Any

from fretloom import api
from fretloom.errors import FretloomError, LessonFaulty, LessonUnreadable
from fretloom.frontends.command.terminal import complain, complain_of, errors_of, loaded, put


def export_file(options: argparse.Namespace) -> int:
    """Export one lesson to a file or to stdout; returns the exit code."""
    form = options.to or _form_of(options.output)
    lesson = api.examine(loaded(options.file, options.root))
    left_out: list[str] = []
    details: dict[str, Any] = {}
    if form == "tab":
        details = {"width": options.width, "unrolled": options.unrolled}
    elif form in ("musicxml", "mxl"):
        details = {"left_out": left_out}
    try:
        result = api.export(lesson, to=form, despite_errors=options.despite_errors, **details)
    except LessonFaulty as error:
        complain(error.diagnostics)
        hint = "" if options.despite_errors else "; mend them, or export --despite-errors"
        print(f"fretloom: {error}, so nothing was exported{hint}", file=sys.stderr)
        return 1
    if options.despite_errors:
        complain(errors_of(lesson.findings))
    for what in left_out:
        print(f"fretloom: left out: {what}", file=sys.stderr)
    put(result, options.output, binary=form == "mxl")
    return 0


def _form_of(output: str | None) -> str:
    """Tell the format by the ending of the file to write."""
    ending = Path(output or "").suffix.lower()
    for form, usual in api.FORMATS.items():
        if ending == usual:
            return form
    raise FretloomError(f"say what to export: --to {', --to '.join(api.FORMATS)}")


def print_sounds(options: argparse.Namespace) -> int:
    """Print what the voicings of one lesson sound; faults of the lesson go to stderr, exit code 1."""
    lesson = api.examine(loaded(options.file, options.root))
    faults = complain_of(lesson)
    say = api.sounds_as_json if options.format == "json" else api.sounds_as_text
    print(say(lesson), end="")
    return 1 if faults else 0


def transpose_file(options: argparse.Namespace) -> int:
    """Write a lesson in another key; remarks and faults go to stderr. Returns the exit code."""
    if options.plays is None and options.capo is None:
        raise FretloomError("say what to change: --plays KEY, --capo FRET, or both")
    lesson = loaded(options.file, options.root)
    try:
        text, remarks = api.transpose(lesson, plays=options.plays, capo=options.capo)
    except LessonFaulty as error:
        complain(error.diagnostics)
        print(f"fretloom: {error}, so it was not transposed; mend them first", file=sys.stderr)
        return 1
    for remark in remarks:
        print(f"fretloom: {remark}", file=sys.stderr)
    put(text, options.output)
    return 0


def format_files(options: argparse.Namespace) -> int:
    """Rewrite files in canonical form, or with --check name those that are not; returns the exit code."""
    code = 0
    for name in options.files:
        try:
            code = max(code, _format(name, options.check))
        except LessonUnreadable as error:
            print(f"fretloom: {error}", file=sys.stderr)
            code = 2
    return code


def _format(file: str, only_check: bool) -> int:
    lesson = api.load(file)
    faults = api.reading_faults(lesson)
    if faults:
        complain(faults)
        print(f"fretloom: {file} has faults and stays as it is; mend them first", file=sys.stderr)
        return 1
    formatted = api.format_text(lesson)
    if lesson.source is not None and formatted == lesson.source.text:
        return 0
    if only_check:
        print(f"{file} is not in canonical form")
        return 1
    api.write(file, formatted)
    print(f"{file} rewritten")
    return 0
