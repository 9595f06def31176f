"""Voicings of a chord symbol searched on the fretboard."""

from __future__ import annotations

import pytest

from fretloom.api import expand, loads
from fretloom.arranging.find_voicings import find_voicings
from fretloom.errors import SymbolError
from fretloom.performance.sounding.strings import fingered


def _settings(head: str = ""):
    return expand(loads(f'lesson "Search"\n{head}')).settings


@pytest.mark.parametrize(
    ("chord", "frets"),
    [("C", "x32010"), ("C/G", "332010"), ("E7", "020100"), ("Am", "x02210"), ("G", "320003")],
)
def test_common_chords_come_first_as_everyone_plays_them(chord: str, frets: str) -> None:
    """The first suggestion is the open chord of every beginner's book (common practice, no source)."""
    assert find_voicings(chord, _settings()).voicings[0].voicing.frets_text == frets


def test_every_voicing_sounds_its_chord_and_has_fingers() -> None:
    """F#m7b5 is F# A C E (its formula: 1 b3 b5 b7), each with the thumb's bass order."""
    settings = _settings()
    for found in find_voicings("F#m7b5", settings).voicings:
        voicing = found.voicing
        notes = {
            fingered(settings, 6 - at, fret) % 12
            for at, fret in enumerate(voicing.frets)
            if fret is not None
        }
        assert notes == {6, 9, 0, 4}
        assert voicing.fingers
        assert voicing.bass


def test_strings_that_have_to_sound_do() -> None:
    """A pattern that needs strings 2 and 1 gets them."""
    for found in find_voicings("Bb", _settings(), needed=frozenset({2, 1})).voicings:
        assert found.voicing.fret(2) is not None
        assert found.voicing.fret(1) is not None


def test_other_tunings() -> None:
    """In DADGAD a D5 is all open strings but the third."""
    found = find_voicings("Dsus4", _settings("  tuning DADGAD\n")).voicings
    assert found[0].voicing.frets_text == "000000"


def test_re_entrant_tunings_are_judged_by_pitch() -> None:
    """On a ukulele the open strings G C E A are Am7, though the thumb's string is not the lowest."""
    found = find_voicings("Am7", _settings("  tuning G4 C4 E4 A4\n")).voicings
    assert found[0].voicing.frets_text == "0000"


def test_a_small_hand_gets_no_harder_voicings() -> None:
    """Whatever is suggested to a small hand it can hold."""
    for found in find_voicings("Gmaj9", _settings("  hand small\n")).voicings:
        assert found.effort.distance <= found.effort.limit or not found.effort.widest


def test_no_chord_symbol() -> None:
    """What is not a chord symbol is refused with a reason."""
    with pytest.raises(SymbolError):
        find_voicings("Hmm", _settings())


@pytest.mark.parametrize("chord", ["F", "Cm", "Gm", "Bb"])
def test_strings_that_the_fingers_pluck_are_not_left_out(chord: str) -> None:
    """A voicing of the lower strings alone is easy to hold, but leaves i, m and a little to play."""
    best = find_voicings(chord, _settings()).voicings[0].voicing
    assert best.fret(1) is not None or best.fret(2) is not None
