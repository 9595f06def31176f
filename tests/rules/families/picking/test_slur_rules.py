"""Hammer-ons go up, pull-offs go down, slides go somewhere."""

from __future__ import annotations

import pytest

import fretloom

LESSON = """lesson "Slurs"

voicings
  E  022100  fingers .231..  bass 6 4 5 4

patterns
  one  p , {pluck} , p , -

section s using one
  E
"""


def slur_findings(pluck: str) -> list[str]:
    """Return what the rule says of one pluck."""
    found = fretloom.check(fretloom.loads(LESSON.replace("{pluck}", pluck)))
    return [one.message for one in found if one.rule == "slur-wrong-way"]


@pytest.mark.parametrize(
    "pluck", ["m2@0h2", "m2@2p0", "m2@2s4", "m2@4s2", "m2@0h2p0", "i3@1h2", "i3h2"]
)
def test_slurs_that_can_be_played_are_let_pass(pluck: str) -> None:
    """Up, down, and along the string (what the words mean in the trade)."""
    assert slur_findings(pluck) == []


@pytest.mark.parametrize(
    ("pluck", "says"),
    [
        ("m2@2h0", "a hammer-on goes up, but this one goes from fret 2 to fret 0 on string 2"),
        ("m2@2p2", "a pull-off goes down, but this one goes from fret 2 to fret 2 on string 2"),
        ("m2@0h0", "a hammer-on goes up, but this one goes from fret 0 to fret 0 on string 2"),
        ("m2@1p3", "a pull-off goes down, but this one goes from fret 1 to fret 3 on string 2"),
        (
            "m2@2s2",
            "a slide goes to another fret, but this one goes from fret 2 to fret 2 on string 2",
        ),
        ("m2@0h2h1", "a hammer-on goes up, but this one goes from fret 2 to fret 1 on string 2"),
        ("i3h1", "a hammer-on goes up, but this one goes from fret 1 to fret 1 on string 3"),
    ],
)
def test_slurs_that_cannot_be_what_they_are_called_are_reported(pluck: str, says: str) -> None:
    """Each with the frets it goes between."""
    assert slur_findings(pluck) == [says]


@pytest.mark.parametrize(
    ("pluck", "write"),
    [
        ("m2@2h0", "write p (pull-off) or s"),
        ("m2@1p3", "write h (hammer-on) or s"),
        ("m2@2s2", "name"),
    ],
)
def test_the_way_out_names_the_sign_that_goes_that_way(pluck: str, write: str) -> None:
    """Down is a pull-off, up a hammer-on."""
    found = fretloom.check(fretloom.loads(LESSON.replace("{pluck}", pluck)))
    assert [one.hint.startswith(write) for one in found if one.rule == "slur-wrong-way"] == [True]
