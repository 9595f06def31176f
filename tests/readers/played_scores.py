"""The lessons whose scores are read, what is played in them, and their scores."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from pathlib import Path

from places import EXAMPLES, TESTS

import fretloom
from fretloom.api import export_options, options_named

GOLDEN = TESTS / "formats" / "musicxml" / "golden"
LESSONS = sorted([*EXAMPLES.glob("*.lesson"), *GOLDEN.glob("*.lesson")])
Heard = Counter[tuple[Fraction, int]]


def score_of(file: Path, layout: str) -> bytes:
    """Return the MusicXML of a lesson, every bar as it is played."""
    known = {one.name for one in export_options()}
    wanted = {"layout": layout} | ({"form": "played"} if "form" in known else {})
    return fretloom.export(fretloom.load(file), "musicxml", options_named("musicxml", wanted))[
        0
    ].data


def played(file: Path) -> Heard:
    """Return (quarter notes from the start, sounding MIDI number) of what is plucked or slurred."""
    found: Heard = Counter()
    start = Fraction(0)
    for one in fretloom.expand(fretloom.load(file)).bars:
        for note in one.bar.notes:
            for sounded in (note, *note.slurs):
                found[start + sounded.onset, sounded.midi] += 1
        start += one.bar.length
    return found


def exact(number: float | Fraction) -> Fraction:
    """Return a reader's number of quarter notes as the fraction it stands for."""
    return Fraction(number).limit_denominator(5040)
