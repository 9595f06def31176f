"""What can be asked of one note."""

from __future__ import annotations

from fractions import Fraction

import pytest

from fretloom.errors import ModelError
from fretloom.model import (
    Bend,
    Brush,
    Pluck,
    Slur,
    SungBar,
    Technique,
    Trill,
    WordsLine,
    parse_count,
)
from fretloom.notation.model.details.sung import syllables
from fretloom.notation.model.details.technique import BENDS


def test_bends_are_named_in_whole_tones() -> None:
    """A full bend is a whole tone, two semitones (as the trade counts; common practice, no source)."""
    assert BENDS["full"] == 2
    assert BENDS["half"] == 1
    assert BENDS["quarter"] == Fraction(1, 2)
    assert BENDS["full-and-half"] == 3
    assert BENDS["two"] == 4


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"held_to": parse_count("3"), "held_for": Fraction(2)}, "one length"),
        ({"held_for": Fraction(2), "lasting": "ring"}, "one length"),
        ({"held_to": parse_count("3"), "lasting": "damped"}, "one length"),
        ({"bend": Bend(Fraction(1)), "trill": Trill(5)}, "bent or trilled"),
        ({"held_for": Fraction(0)}, "above 0"),
    ],
)
def test_what_does_not_go_together_is_refused(fields: dict[str, object], says: str) -> None:
    """One length for a note, and one way to move its pitch."""
    with pytest.raises(ModelError, match=says):
        Technique(**fields)


def test_an_amount_without_a_word_is_refused() -> None:
    """What no text can say."""
    with pytest.raises(ModelError, match="semitones"):
        Bend(Fraction(7))


def test_a_grace_note_wants_a_slur() -> None:
    """The pluck's own note is the grace note, its last slur the main one."""
    with pytest.raises(ModelError, match="slurred to its main note"):
        Pluck(finger="m", technique=Technique(grace="on-beat"))
    assert Pluck(finger="m", slurs=(Slur("hammer-on", 3),), technique=Technique(grace="before"))


def test_a_harmonic_is_of_one_kind() -> None:
    """Natural or artificial."""
    with pytest.raises(ModelError, match="not both"):
        Pluck(finger="m", fret=12, harmonic=True, technique=Technique(touch=24))


def test_of_a_brush_only_its_length_can_be_said() -> None:
    """Damped, yes; bent, no."""
    assert Brush(finger="p", first=6, last=4, technique=Technique(lasting="damped"))
    with pytest.raises(ModelError, match="only its length"):
        Brush(finger="p", first=6, last=4, technique=Technique(vibrato=True))


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("Lamps are lit", ["Lamps", "are", "lit"]),
        ("a-long the lane", ["a-", "long", "the", "lane"]),
        ("low -- water", ["low", "--", "water"]),
        ("", []),
        ("é-lan, now!", ["é-", "lan,", "now!"]),
    ],
)
def test_syllables(text: str, found: list[str]) -> None:
    """A space or a hyphen ends one; the hyphen stays with it."""
    assert syllables(text) == found


def test_each_syllable_has_its_count_or_none_has() -> None:
    """Two counts for three syllables are refused; so is a line without words."""
    two = (parse_count("1"), parse_count("2&"))
    with pytest.raises(ModelError, match="one for each of the 3 syllables"):
        SungBar(text="Lamps are lit", counts=two)
    with pytest.raises(ModelError, match="some bar has words"):
        WordsLine(bars=(SungBar(),))
