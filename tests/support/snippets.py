"""The words of the notation, and small pieces of it, tried in each place of a lesson where one can stand."""

from __future__ import annotations

import re

from places import EXAMPLES

from fretloom.api import check, loads
from fretloom.notation.model.words import BAR_WORDS, LINE_WORDS, OPENERS, RESERVED
from fretloom.notation.syntax.parsing.grammar import grammar_text
from fretloom.rule_facts import READING, RULES, Severity

_QUOTED = re.compile(r'"([a-z]{2,})"')
_PATTERN = re.compile(r"^[A-Z_]+(?:\.\d)?: /(.*)/$", re.M)
_CLASS_OR_ESCAPE = re.compile(r"\[[^\]]*\]|\\.|\(\?\S")
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
    "first line": "{}\n" + NAMED,
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
    "on a count": _SECTION + "E  stop on {}\n",
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
    found = check(loads(PLACES[place].replace("{}", piece), root=EXAMPLES))
    return [
        one.message for one in found if one.severity is Severity.ERROR and one.rule in _SPELLING
    ]


def places_of(piece: str) -> list[str]:
    """Return the places where a piece of the notation has no fault."""
    return [place for place in PLACES if not faults_of(place, piece)]


def keywords() -> set[str]:
    """Return every word that the model knows, or the grammar, in quotes or inside a sign (`2trip`)."""
    grammar = re.sub(r"^//.*|(?<=\s)//.*", "", grammar_text(), flags=re.M)
    words = set(_QUOTED.findall(grammar))
    for pattern in _PATTERN.findall(grammar):
        words.update(re.findall(r"[a-z]{3,}", _CLASS_OR_ESCAPE.sub(" ", pattern)))
    return words.union(BAR_WORDS, LINE_WORDS, OPENERS, RESERVED)


def table_rows(text: str) -> list[list[str]]:
    """Return the cells of the rows of a page's tables, without their heads."""
    found: list[list[str]] = []
    for line in text.splitlines():
        if line.startswith("| ---"):
            found.pop()
        elif line.startswith("| "):
            cells = re.split(r"(?<!\\)\|", line.strip())[1:-1]
            found.append([cell.strip().replace("\\|", "|") for cell in cells])
    return found
