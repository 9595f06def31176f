"""Scores of short lessons, all laws checked, for what is easier written than built by hand."""

from __future__ import annotations

from typing import Any

from expanding import expand
from lxml import etree
from musicxml_laws import check_everything
from musicxml_reading import Bar, Note, bars_of

from fretloom.notation.syntax.read import read
from fretloom.performance.events import Timeline
from fretloom.source import Source

HEAD = """\
lesson "Kiln Lane Slow Air"
  plays in C
  tempo 90

voicings
  Am  x02210  fingers ..231.
  E7  020100  fingers .2.1..
  Fm  133111  fingers 134111

patterns
  plain  p , p m , p i , p m

section verse using plain
"""


def piece(body: str, plays: str = "C") -> Timeline:
    """Return what a section with these lines plays; lines after an empty one are blocks of their own."""
    head = HEAD.replace("plays in C", f"plays in {plays}")
    section, _, blocks = body.partition("\n\n")
    lines = "".join(f"  {line}\n" for line in section.splitlines())
    found = expand(read(Source("air.lesson", f"{head}{lines}\n{blocks}\n")))
    assert not [one.message for one in found.diagnostics if str(one.severity) == "error"]
    return found.timeline


def written(body: str, plays: str = "C", **options: Any) -> list[Bar]:
    """Return the bars of its score."""
    return bars_of(check_everything(piece(body, plays), **options))


def root_of(body: str, **options: Any) -> Any:
    """Return its score as a tree."""
    return etree.fromstring(check_everything(piece(body), **options))


def upper(bar: Bar) -> list[Note]:
    """Return the notes of the notation staff."""
    return [note for note in bar.notes if note.staff == "1" and not note.rest]


def lower(bar: Bar) -> list[Note]:
    """Return the notes of the tablature below it."""
    return [note for note in bar.notes if note.staff == "2" and not note.rest]


def words_in(bar: Bar) -> list[tuple[Any, str]]:
    """Return the words over and under a bar with their places."""
    found = ((at, one.findtext("direction-type/words")) for at, one in bar.above)
    return [(at, text) for at, text in found if text]
