"""music21 is handed what is played."""

from __future__ import annotations

import sys
from collections import Counter
from fractions import Fraction

import pytest
from music21 import chord, harmony, stream
from places import EXAMPLES

import fretloom
from fretloom.errors import FretloomError

LESSONS = sorted(EXAMPLES.glob("*.lesson"))


def heard(score: stream.Score) -> Counter[tuple[Fraction, int]]:
    """Return (quarter notes from the start, MIDI) of what is plucked or slurred."""
    found: Counter[tuple[Fraction, int]] = Counter()
    for one in score.recurse().notes:
        if isinstance(one, harmony.ChordSymbol):
            continue
        at = Fraction(one.getOffsetInHierarchy(score)).limit_denominator(5040)
        for note in one.notes if isinstance(one, chord.Chord) else (one,):
            tie = note.tie or one.tie
            if tie is None or tie.type in ("start", "let-ring"):
                found[at, note.pitch.midi] += 1
    return found


@pytest.mark.parametrize("file", LESSONS, ids=lambda file: file.stem)
def test_a_score_has_the_onsets_and_pitches_that_are_played(file):
    """Those of the timeline, capo included; grace notes begin with their main note."""
    lesson = fretloom.load(file)
    played: Counter[tuple[Fraction, int]] = Counter()
    start = Fraction(0)
    for one in fretloom.expand(lesson).bars:
        for note in one.bar.notes:
            for sounded in (note, *note.slurs):
                played[start + sounded.onset, sounded.midi] += 1
        start += one.bar.length
    found = heard(fretloom.to_music21(lesson))
    assert (played - found, found - played) == (Counter(), Counter())


def test_options_are_those_of_a_score():
    lesson = fretloom.load(EXAMPLES / "kiln-lane-shuffle.lesson")
    assert len(fretloom.to_music21(lesson).parts) == 1
    assert len(fretloom.to_music21(lesson, fretloom.ScoreOptions(layout="two-parts")).parts) == 2
    with pytest.raises(TypeError, match="options of musicxml are ScoreOptions, not TabOptions"):
        fretloom.to_music21(lesson, fretloom.TabOptions())  # type: ignore[arg-type]


def test_music21_may_be_missing(monkeypatch: pytest.MonkeyPatch):
    """The message says what installs it."""
    monkeypatch.setitem(sys.modules, "music21", None)
    with pytest.raises(FretloomError, match=r"install it with pip install 'fretloom\[music21\]'$"):
        fretloom.to_music21(fretloom.load(EXAMPLES / "kiln-lane-shuffle.lesson"))
