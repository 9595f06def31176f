"""Guitars tuned down as a whole, where names may follow the shapes or the sound."""

from __future__ import annotations

import pytest

from fretloom.api import expand, loads
from fretloom.trade.guitar.tunings import parse_tuning, tuning_shift

LESSON = """lesson "Two cups"
  tuning {tuning}

voicings
  {voicing}

patterns
  plain  p , m , p , m

section t  using plain
  {name} | {name}
"""


def bass(tuning: str, voicing: str) -> tuple[int, ...]:
    name = voicing.split(maxsplit=1)[0]
    text = LESSON.format(tuning=tuning, voicing=voicing, name=name)
    return expand(loads(text)).voicings[name].bass


@pytest.mark.parametrize("voicing", ["E 022100", "A x02220", "D xx0232", "B7 x21202  hop 2 to 6@2"])
def test_names_of_shapes_give_the_usual_walk(voicing):
    """The walk over a shape is the same a half or a whole step down (the strings stay, the notes move)."""
    usual = bass("standard", voicing)
    assert bass("half step down", voicing) == usual
    assert bass("whole step down", voicing) == usual


def test_names_of_sounds_give_the_same_walk():
    """E's shape half a step down called Eb is walked like E."""
    assert bass("half step down", "Eb 022100") == bass("standard", "E 022100")
    assert bass("baritone", "B 022100") == bass("standard", "E 022100")


@pytest.mark.parametrize(
    ("tuning", "shift"),
    [("standard", 0), ("half step down", -1), ("whole step down", -2), ("half step up", 1),
     ("baritone", -5), ("drop D", 0), ("DADGAD", 0), ("7-string", 0), ("ukulele", 0)],
)  # fmt: skip
def test_shift_of_all_strings(tuning, shift):
    """Only tunings moved as a whole are shifted (arithmetic)."""
    assert tuning_shift(parse_tuning(tuning)) == shift
