"""What is said about holding a voicing: five frets, the tool's own fingers, the end of the neck."""

from __future__ import annotations

import pytest
from rule_lessons import findings


def _said(voicing: str, head: str = "", named: str = "shape") -> list[tuple[str, str]]:
    text = f"""lesson "Holding"
  tempo 60
{head}
voicings
  {named}  {voicing}

patterns
  thumb  p5 , p5 , p4 , p4

section tune  using thumb
  {named}
"""
    about = {"stretch", "reach", "no-fingering", "barre-large", "no-such-fret", "finger-reversed"}
    return [(one.severity.value, one.rule) for one in findings(text) if one.rule in about]


@pytest.mark.parametrize(
    ("voicing", "head", "said"),
    [
        ("x357xx", "", [("warning", "stretch")]),
        ("x357xx  fingers .124..", "", [("warning", "stretch")]),
        ("x468xx  fingers .124..", "", [("warning", "stretch")]),
        ("x135xx  fingers .124..", "  capo 2\n", [("warning", "stretch")]),
        ("x246xx  fingers .124..", "", [("error", "reach")]),
        ("x135xx  fingers .134..", "", [("error", "reach")]),
        ("x357xx  fingers .124..", "  hand small\n", [("error", "reach")]),
        ("x-12-14-16-x-x  fingers .124..", "", []),
        ("x367xx  fingers .134..", "", [("warning", "stretch")]),
        ("x3x7xx  fingers .1.3..", "", [("error", "reach")]),
    ],
)
def test_five_frets_are_a_stretch_from_the_third_on(voicing: str, head: str, said: list) -> None:
    """Fingers 1 and 4 make it from fret 3 of the sounding neck on; the limits of other pairs stay."""
    assert _said(voicing, head) == said


@pytest.mark.parametrize(
    "voicing",
    [
        "x13331",
        "x13331  fingers .12341",
        "x35555",
        "x35555  fingers .13333",
        "x42220",
        "x42220  fingers .3111.",
        "133211",
        "x46664",
        "x24442",
    ],
)
def test_the_tool_does_not_warn_of_fingers_it_would_choose(voicing: str) -> None:
    """What it finds itself, or would find, is no fault of the fingers."""
    assert _said(voicing) == []


def test_other_fingers_are_still_warned_of() -> None:
    """B flat with the fingers turned away from the usual ones keeps its warning."""
    assert _said("x13331  fingers .13421") != []


@pytest.mark.parametrize(
    ("instrument", "last"), [("", 20), ("classical", 19), ("electric", 22), ("12-string", 20)]
)
def test_a_fret_beyond_the_neck_is_an_error(instrument: str, last: int) -> None:
    """An instrument that is not named has the neck that its kind usually has."""
    head = f"  instrument {instrument}\n" if instrument else ""
    assert _said(f"x-x-{last}-{last}-x-x", head) == []
    assert _said(f"x-x-{last + 1}-{last}-x-x", head) == [("error", "no-such-fret")]
