"""Lessons for the tests of practice paths, and what they come to."""

from __future__ import annotations

from places import EXAMPLES

from fretloom.api import examine, load, loads
from fretloom.performance.reading import Reading
from fretloom.practising.path import practice_path
from fretloom.practising.plan import PracticePath, PracticeWish

TUNE = """lesson "Two cups"
  meter 4/4
  tempo 96

voicings
  Am  x02210  fingers ..231.  bass 5 4 5 4
  C   x32010  fingers .32.1.  bass 5 4 5 4
  F   133211  fingers 134211  bass 6 4 5 4

patterns
  plain    p , p m , p i , p m
  pinched  p+m , p i , p+m , p i

section verse  4 bars  using plain  "Verse"
  Am | C | F | C

section close  2 bars  using pinched  "Close"
  Am | Am

form
  verse
  close
"""
STEPS = """
step "The thumb alone"
  Count four.
  The thumb plays on every number.

  Listen.
  show pattern plain over Am at 60

step "Verse"
  show voicing F
  show change C to F
  show bars 1-2 of verse from 50 to 90
"""


def reading(text: str) -> Reading:
    """Read a lesson through."""
    return examine(loads(text)).reading


def path(text: str, **wish: object) -> PracticePath:
    """Return the practice path of a text."""
    return practice_path(reading(text), PracticeWish(**wish))  # type: ignore[arg-type]


def example(name: str, **wish: object) -> PracticePath:
    """Return the practice path of one of the examples."""
    found = examine(load(EXAMPLES / f"{name}.lesson")).reading
    return practice_path(found, PracticeWish(**wish))  # type: ignore[arg-type]
