"""Keys under a capo."""

from __future__ import annotations

import pytest

from fretloom.trade.music.key import parse_key


@pytest.mark.parametrize(
    ("key", "capo", "sounds"),
    [
        ("C", 1, "Db"), ("C", 2, "D"), ("C", 3, "Eb"), ("C", 4, "E"), ("C", 5, "F"), ("C", 6, "Gb"),
        ("C", 7, "G"), ("D", 4, "Gb"), ("A", 4, "Db"), ("E", 2, "F#"), ("E", 3, "G"), ("Am", 3, "Cm"),
        ("Em", 11, "Ebm"), ("F#", 0, "F#"), ("Gb", 12, "Gb"),
    ],
)  # fmt: skip
def test_the_sounding_key_has_the_fewest_accidentals(key: str, capo: int, sounds: str) -> None:
    """C under capos 1 to 7, D and A under capo 4 as the design's MusicXML profile counts their steps."""
    assert str(parse_key(key).transposed(capo)) == sounds
