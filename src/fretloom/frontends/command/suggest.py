"""`fretloom suggest`: what would be easier."""

from __future__ import annotations

import argparse

from fretloom import api
from fretloom.api import LessonFaulty
from fretloom.frontends.command.terminal import (
    add_root,
    errors_of,
    examined,
    not_arranged,
    put,
)

_STRINGS, _FRETS, _MOST = 12, 24, 1000


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    kinds = parser.add_subparsers(dest="what", required=True, metavar="WHAT")
    voicing = kinds.add_parser("voicing", help="playable voicings of a chord, best first")
    capo = kinds.add_parser("capo", help="capos and shapes for a lesson, easiest first")
    _add_voicing(voicing)
    _add_capo(capo)
    for one in (voicing, capo):
        one.add_argument(
            "--despite-findings",
            action="store_true",
            help="with --output: also if a check finds something in it that it does not find in FILE",
        )
        one.add_argument("--format", choices=("text", "json"), default="text")
        add_root(one)


def _add_voicing(voicing: argparse.ArgumentParser) -> None:
    voicing.add_argument("chord", metavar="CHORD", help='such as "F#m7b5"')
    voicing.add_argument(
        "--lesson", metavar="LESSON", help="take tuning, capo, hand and fingers from it"
    )
    voicing.add_argument(
        "--sounding", nargs="+", type=_string, metavar="STRING", help="strings that have to sound"
    )
    voicing.add_argument("--thumb", action="store_true", help="the thumb may fret over the neck")
    voicing.add_argument(
        "-o",
        "--output",
        metavar="OUT",
        help="write the lesson with the first of them, or a file with all of them, to this file (-: stdout)",
    )
    voicing.add_argument(
        "--number", type=_most, metavar="N", help="with --output: the Nth of them, not the first"
    )
    voicing.add_argument("--most", type=_most, metavar="N", default=8, help="how many (default: 8)")


def _add_capo(capo: argparse.ArgumentParser) -> None:
    capo.add_argument("file", metavar="FILE")
    capo.add_argument("--sounds", metavar="KEY", help="key to reach (default: as it sounds now)")
    capo.add_argument(
        "--open", action="store_true", help="only where every chord has an open string"
    )
    capo.add_argument(
        "--highest",
        type=_fret,
        metavar="FRET",
        help="where the capo may stand at most (default: 7)",
    )
    capo.add_argument(
        "--capo", type=_fret, metavar="FRET", help="with --output: this capo, not the easiest"
    )
    capo.add_argument(
        "-o", "--output", metavar="OUT", help="write the lesson with it to this file (-: stdout)"
    )


def run(options: argparse.Namespace) -> int:
    """Print suggested voicings or capos; returns the exit code."""
    return _print_voicings(options) if options.what == "voicing" else _print_capos(options)


def _print_voicings(options: argparse.Namespace) -> int:
    lesson, code = examined(options.lesson, options.root) if options.lesson else (None, 0)
    found = api.suggest_voicings(
        options.chord,
        lesson,
        sounding=tuple(options.sounding or ()),
        thumb=options.thumb,
        limit=options.most,
    )
    if options.output is not None:
        return code or _write_voicing(found, lesson, options)
    say = api.as_json if options.format == "json" else api.as_text
    print(say(found), end="")
    return code


def _write_voicing(
    found: api.FoundVoicings, lesson: api.Examined | None, options: argparse.Namespace
) -> int:
    try:
        new = api.with_suggestion(
            found, lesson, number=options.number, despite_findings=options.despite_findings
        )
    except LessonFaulty as error:
        return not_arranged(error, "written", errors_of(lesson.findings if lesson else ()))
    put(api.dumps(new), options.output, lesson)
    return 0


def _print_capos(options: argparse.Namespace) -> int:
    lesson, code = examined(options.file, options.root)
    if code:
        return code
    if options.output is not None:
        return _write_with_capo(lesson, options)
    say = api.as_json if options.format == "json" else api.as_text
    found = api.suggest_capos(
        lesson, sounds=options.sounds, open_only=options.open, highest=options.highest
    )
    print(say(found), end="")
    return 0


def _write_with_capo(lesson: api.Examined, options: argparse.Namespace) -> int:
    try:
        found = api.with_easiest_capo(
            lesson,
            sounds=options.sounds,
            capo=options.capo,
            open_only=options.open,
            highest=options.highest,
            despite_findings=options.despite_findings,
        )
    except LessonFaulty as error:
        return not_arranged(error, "written", errors_of(lesson.findings))
    put(api.dumps(found), options.output, lesson)
    return 0


def _string(text: str) -> int:
    return _number(text, 1, _STRINGS, "a string")


def _fret(text: str) -> int:
    return _number(text, 0, _FRETS, "a fret")


def _most(text: str) -> int:
    return _number(text, 1, _MOST, "a number")


def _number(text: str, least: int, most: int, what: str) -> int:
    number = api.whole_number(text, most)
    if number is None or number < least:
        raise argparse.ArgumentTypeError(f"give {what} from {least} to {most}")
    return number
