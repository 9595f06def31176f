"""What a bar asks of the hands, named as the trade names it (from memory of what methods call it)."""

from __future__ import annotations

import pytest
from practice_lessons import reading

from fretloom.practising.elements import note_techniques, pattern_elements, shape_techniques

HEAD = """lesson "Two cups"
  meter {meter}

voicings
  Am  x02210  fingers ..231.  bass 5 4 5 4
  Em  022000  fingers .23...  bass 6 6 6 6

section verse
  {bar}
"""


def _bar(bar: str, meter: str = "4/4"):
    return reading(HEAD.format(bar=bar, meter=meter)).timeline.bars[0].bar


@pytest.mark.parametrize(
    ("bar", "elements"),
    [
        ("Am { p, p, p, p }", {"thumb", "alternating-bass"}),
        ("Em { p, p, p, p }", {"thumb", "one-bass"}),
        ("Am { p, -, -, - }", {"thumb"}),
        ("Am { p, i, m, i }", {"thumb", "fingers"}),
        ("Am { p, m, a, m }", {"thumb", "fingers", "ring-finger"}),
        ("Am { p, - m, - i, - }", {"thumb", "fingers", "off-beat", "syncopation"}),
        ("Am { p, - m, i, - }", {"thumb", "fingers", "off-beat"}),
        ("Am { p+m, -, -, - }", {"thumb", "fingers", "pinch"}),
        ("Am { p, i+m, -, - }", {"thumb", "fingers", "together"}),
        ("Am { (p i m), -, -, - }", {"thumb", "fingers", "roll"}),
        ("Am { (slow p i m), -, -, - }", {"thumb", "fingers", "slow-roll"}),
        ("Am { p, i3-1, -, - }", {"thumb", "fingers", "brush"}),
        ("Am { p i m i, -, -, - }", {"thumb", "fingers", "off-beat", "fours"}),
        ("Am { p i m, -, -, - }", {"thumb", "fingers", "threes"}),
        ("Am:2 Em:2 { p, -, p, - }", {"thumb", "alternating-bass", "two-shapes"}),
    ],
)
def test_what_the_picking_does(bar: str, elements: set[str]) -> None:
    assert set(pattern_elements(_bar(bar))) == elements


def test_the_thumb_alone_has_no_pinch_and_no_roll() -> None:
    """Its part of both is a single note."""
    bar = _bar("Am { p+m, (p i m a), p, i }")
    assert set(pattern_elements(bar, "thumb")) == {"thumb", "alternating-bass"}
    assert "thumb" not in set(pattern_elements(bar, "fingers"))


@pytest.mark.parametrize(
    ("pluck", "technique"),
    [
        ("i3@0h2", "hammer-on"),
        ("i3@2p0", "pull-off"),
        ("i3@2s4", "slide"),
        ("i3@12*", "harmonic"),
        ("ix", "dead"),
        ("i3@4", "beside"),
        ("i3.vibrato", "vibrato"),
        ("i3.ghost", "ghost"),
        ("i3.damped", "damped"),
        ("i3@2.bend-half", "bend"),
        ("slap", "slap"),
        ("body-slap", "body-slap"),
    ],
)
def test_what_notes_ask_for(pluck: str, technique: str) -> None:
    found = set(note_techniques(_bar(f"Am {{ p, {pluck}, -, - }}")))
    assert technique in found
    assert found <= {technique, "beside"}


def test_what_a_shape_asks_for() -> None:
    """A barre over three strings is a small one still."""
    text = HEAD.replace(
        "  Em ", "  F   133211  fingers 134211\n  A  x02220  fingers ..111.\n  Fs  xx3211  fingers ..3211\n"
        "  G  320033  fingers T2..34  hop 2 to 4@2\n  Em "
    )  # fmt: skip
    voicings = reading(text.format(bar="Am", meter="4/4")).timeline.voicings
    asked = {name: set(shape_techniques(one)) for name, one in voicings.items()}
    assert asked["Am"] == set()
    assert asked["F"] == {"barre"}
    assert asked["A"] == asked["Fs"] == {"small-barre"}
    assert asked["G"] == {"thumb-over", "hop"}
