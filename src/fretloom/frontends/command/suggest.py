"""`fretloom suggest`: what would be easier."""

from __future__ import annotations

import argparse

from fretloom import api
from fretloom.frontends.command.terminal import add_root, examined


def add_options(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    kinds = parser.add_subparsers(dest="what", required=True, metavar="WHAT")
    voicing = kinds.add_parser("voicing", help="playable voicings of a chord, best first")
    voicing.add_argument("chord", metavar="CHORD", help='such as "F#m7b5"')
    voicing.add_argument(
        "--lesson", metavar="FILE", help="take tuning, capo, hand and fingers from it"
    )
    voicing.add_argument(
        "--sounding", nargs="+", type=int, metavar="STRING", help="strings that have to sound"
    )
    voicing.add_argument("--thumb", action="store_true", help="the thumb may fret over the neck")
    voicing.add_argument("--most", type=int, default=8, help="how many (default: 8)")
    capo = kinds.add_parser("capo", help="capos and shapes for a lesson, easiest first")
    capo.add_argument("file", metavar="FILE")
    capo.add_argument("--sounds", metavar="KEY", help="key to reach (default: as it sounds now)")
    capo.add_argument("--capo", type=int, help="with --output: this capo, not the easiest")
    capo.add_argument("-o", "--output", metavar="OUT", help="write the lesson with it to this file")
    for one in (voicing, capo):
        one.add_argument("--format", choices=("text", "json"), default="text")
        add_root(one)


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
    say = api.as_json if options.format == "json" else api.as_text
    print(say(found), end="")
    return code


def _print_capos(options: argparse.Namespace) -> int:
    lesson, code = examined(options.file, options.root)
    if code:
        return code
    if options.output:
        moved = api.with_easiest_capo(lesson, sounds=options.sounds, capo=options.capo)
        api.write(options.output, api.dumps(moved))
        return 0
    say = api.as_json if options.format == "json" else api.as_text
    print(say(api.suggest_capos(lesson, sounds=options.sounds)), end="")
    return 0
