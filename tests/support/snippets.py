"""Small pieces of the notation, tried in each place of a lesson where one can stand."""

from __future__ import annotations

from fretloom.api import check, loads
from fretloom.rule_facts import READING, RULES, Severity

#: What the pieces name.
NAMED = """
voicings
  A    x02220
  A7   x02020
  B7   x21202
  Bm7  x24232
  C    x32010
  C#m  x46654
  D    xx0232
  E    022100
  E7   020100
  G    320003

patterns
  plain    p , p m , p i , p m
  pinched  p+m , p i , p+m , p i
  filled   p , p m , p i , p m i a
  waltz in 3/4: p , i+m+a , i+m+a

section intro  using plain
  E

section chorus  using plain
  A
"""
_SECTION = NAMED + "\nsection verse  using plain\n  "
_FORM = _SECTION + "E | E x11\n\nform\n  intro\n  chorus\n  verse\n"
#: Where a piece can stand.
PLACES = {
    "heading": 'lesson "Tea"\n  {}\n' + NAMED,
    "picking": NAMED + "\npicking\n  {}\n",
    "voicings": NAMED + "\nvoicings\n  {}\n",
    "behind a voicing": NAMED + "\nvoicings\n  walk  x32010  {}\n",
    "behind a derived voicing": NAMED + "\nvoicings\n  walk  like C  {}\n",
    "patterns": NAMED + "\npatterns\n  {}\n",
    "in a pattern": NAMED + "\npatterns\n  answer  {}\n",
    "block": NAMED + "\n{}\n",
    "behind a section": NAMED + "\nsection verse  {}\n",
    "in a section": _SECTION + "{}\n",
    "in a repeat": _SECTION + "repeat 2\n    E\n    {}\n  end\n",
    "behind a bar": _SECTION + "E  {}\n",
    "form": _FORM + "  {}\n",
    "below an entry": _FORM + "    {}\n",
    "step": _FORM + '\nstep "One"\n  {}\n',
}
#: Rules about what is read and about names; others ask for more than a piece can have.
_SPELLING = {one.name for one in RULES if one.stage == READING or one.name.startswith("unknown-")}


def faults_of(place: str, piece: str) -> list[str]:
    """Return what is wrong with the spelling and the names of a piece at a place of `PLACES`."""
    if place == "step" and not piece.startswith("show "):
        return ["this is prose"]
    found = check(loads(PLACES[place].replace("{}", piece)))
    return [
        one.message for one in found if one.severity is Severity.ERROR and one.rule in _SPELLING
    ]


def places_of(piece: str) -> list[str]:
    """Return the places where a piece of the notation has no fault."""
    return [place for place in PLACES if not faults_of(place, piece)]
