"""Comparing a chord symbol with what sounds."""

from __future__ import annotations

import pytest

from fretloom.trade.guitar.tunings import parse_tuning
from fretloom.trade.harmony.fit import fit, note_in
from fretloom.trade.harmony.symbol import parse_symbol

STANDARD = "E2 A2 D3 G3 B3 E4"


def sounding(frets: str, tuning: str = STANDARD, capo: int = 0) -> list[int]:
    """MIDI numbers of frets such as x32010 in a tuning."""
    pairs = zip(parse_tuning(tuning).pitches, frets, strict=True)
    return [pitch.midi + int(fret) + capo for pitch, fret in pairs if fret != "x"]


# Arithmetic; thread cuthbertLab/music21#1570 (basses outside the chord are ordinary on a guitar).
@pytest.mark.parametrize(
    ("name", "frets", "lowest"),
    [("C/Bb", "x12010", 46), ("Am/F#", "202210", 42), ("D/F#", "2x0232", 42)],
)
def test_slash_bass_fits(name, frets, lowest):
    """A slash bass in or outside the chord fits when it sounds lowest."""
    found = fit(parse_symbol(name), sounding(frets))
    assert found.accepted
    assert found.lowest == lowest


def test_wrong_bass():
    """C/E with C lowest is a wrong bass and nothing else."""
    found = fit(parse_symbol("C/E"), sounding("x32010"))
    assert (found.wrong_bass, found.missing, found.foreign) == (True, (), ())
    assert not found.accepted


def test_foreign_and_missing_tones():
    """E7 is not Em7: its G# is foreign and the G is missing (standard theory)."""
    found = fit(parse_symbol("Em7"), sounding("020100"))
    assert [str(note) for note in found.missing] == ["G"]
    assert found.foreign == (56,)
    assert str(note_in(found.symbol, 56 % 12)) == "G#"


# Arithmetic on the tutorial pages' re-entrant ukulele tuning (string 4 above string 3).
@pytest.mark.parametrize(
    ("name", "frets", "notes"),
    [
        ("C", "0003", [67, 60, 64, 72]),
        ("F", "2010", [69, 60, 65, 69]),
        ("G", "0232", [67, 62, 67, 71]),
        ("Am", "2000", [69, 60, 64, 69]),
    ],
)
def test_reentrant_tuning_is_judged_by_pitch(name, frets, notes):
    """On a ukulele string 3 is lowest, and an inversion is not an error."""
    assert sounding(frets, "ukulele") == notes
    found = fit(parse_symbol(name), notes)
    assert found.accepted
    assert found.lowest == min(notes)


@pytest.mark.parametrize(
    ("name", "frets"),
    [
        ("C", "x32010"), ("C/G", "332010"), ("C7", "x32310"), ("Cmaj7", "x32000"), ("Cadd9", "x32030"),
        ("A", "x02220"), ("Am", "x02210"), ("A7", "x02020"), ("Am7", "x02010"), ("B7", "x21202"),
        ("D", "xx0232"), ("Dm", "xx0231"), ("D7", "xx0212"), ("D/F#", "2x0232"), ("E", "022100"),
        ("Em", "022000"), ("E7", "020100"), ("E7", "022130"), ("F", "xx3211"), ("F", "1x3211"),
        ("F", "133211"), ("Fmaj7", "xx3210"), ("G", "320003"), ("G7", "320001"), ("G/B", "x20003"),
        ("Bm", "x24432"), ("Bb", "x13331"), ("Cm", "x35543"), ("F#m", "244222"), ("Gm", "355333"),
        ("E6", "022120"), ("C#m", "x46654"), ("C#m7", "x46454"), ("Bm7", "x24232"),
        # the thumb's other bass notes sound as well
        ("C", "332010"), ("A", "002220"), ("D", "x00232"), ("Am7", "002010"), ("B7", "221202"),
    ],
)  # fmt: skip
def test_ordinary_teaching_voicings_fit(name, frets):
    """Common open and barre voicings are what they are called (tutorial pages, common practice)."""
    assert fit(parse_symbol(name), sounding(frets)).accepted


def test_omitted_fifth_and_root():
    """An omitted fifth is fine and a missing root of a ninth chord is said, not refused."""
    assert fit(parse_symbol("C7"), [48, 52, 58]).accepted
    rootless = fit(parse_symbol("C9"), [52, 58, 62])
    assert (rootless.accepted, rootless.rootless) == (True, True)
    assert not fit(parse_symbol("C"), [52, 55]).accepted


@pytest.mark.parametrize(
    ("name", "frets", "missing"),
    [
        ("G7", "320003", "F"),
        ("Cmaj7", "x32010", "B"),
        ("Am6", "x02210", "F#"),
        ("Dsus4", "xx023x", "G"),
        ("Cadd9", "x32010", "D"),
        ("Bm7b5", "x2x2x2", "D F"),
    ],
)
def test_what_makes_the_chord_has_to_sound(name, frets, missing):
    """The seventh, sixth, fourth, ninth or altered fifth of the name, not only its third (standard theory)."""
    found = fit(parse_symbol(name), sounding(frets))
    assert " ".join(str(note) for note in found.missing) == missing
    assert not found.accepted


def test_altered_chord_needs_an_altered_tone():
    """C7alt is fine with any altered tone and wrong with none or with a natural ninth."""
    assert fit(parse_symbol("C7alt"), [48, 52, 58, 63]).accepted
    assert fit(parse_symbol("C7alt"), [48, 52, 58]).unaltered
    assert fit(parse_symbol("C7alt"), [48, 52, 58, 61, 62]).foreign == (62,)


def test_no_chord_takes_no_note():
    """Whatever sounds is foreign to N.C."""
    assert fit(parse_symbol("N.C."), [40, 47]).foreign == (40, 47)
    assert fit(parse_symbol("N.C."), []).accepted
