"""Names as they are printed."""

from __future__ import annotations

import pytest

from fretloom.trade.wording import with_signs


@pytest.mark.parametrize(
    ("name", "printed"),
    [
        ("C#m7b5", "C♯m7♭5"),
        ("Bb", "B♭"),
        ("Bbm7", "B♭m7"),
        ("F#/A#", "F♯/A♯"),
        ("Abmaj7/Eb", "A♭maj7/E♭"),
        ("Dbdim7", "D♭dim7"),
        ("Eb6/9", "E♭6/9"),
        ("C7#9", "C7♯9"),
        ("Bm7 at fret 2", "Bm7 at fret 2"),
        ("B", "B"),
        ("Bsus4", "Bsus4"),
        ("walkdown", "walkdown"),
        ("b2 riff", "b2 riff"),
        ("N.C.", "N.C."),
    ],
)
def test_sharps_and_flats_are_printed_as_signs(name: str, printed: str):
    """In roots, basses and degrees, and in nothing else."""
    assert with_signs(name) == printed
