"""Short lessons for the tests of the expansion, and short ways to look at what they come to."""

from __future__ import annotations

from fractions import Fraction

from attrs import evolve
from expanding import expand

from fretloom.notation.syntax.read import read
from fretloom.performance.events import TimedBar
from fretloom.performance.expansion.expand import Expansion
from fretloom.source import Source

HEAD = """
lesson "Test"
{fields}
voicings
  E      022100  fingers .231..   bass 6 4 5 4
  A      002220  fingers ..123.   bass 5 4 6 4
  B7     x21202  fingers .213.4   bass 5 4 6 4   hop 2 to 6@2
  D      xx0232  fingers ...132   bass 4 5 4 5
  C      x32010  fingers .32.1.   bass 5 4 5 4
  Am     x02210  fingers ..231.   bass 5 4 5 4

patterns
  plain    in 4/4: p , p m , p i , p m
  bassline in 4/4: p , p , p , p
  pinched  in 4/4: p+m , p i , p+m , p i
"""


def expanded(body: str, *fields: str, **linked: str) -> Expansion:
    """Expand a lesson: sections and more after the usual voicings and patterns."""
    head = HEAD.format(fields="".join(f"  {field}\n" for field in fields))
    return expanded_text(head + body, **linked)


def expanded_text(text: str, **linked: str) -> Expansion:
    """Expand a whole text; `linked` gives the texts of `NAME.lesson` files."""
    lesson = read(Source("test.lesson", text))
    assert [fault.message for fault in lesson.faults] == []
    files = {f"{name}.lesson": read(Source(f"{name}.lesson", one)) for name, one in linked.items()}
    files = {path: evolve(one, linked=files) for path, one in files.items()}
    return expand(evolve(lesson, linked=files))


def bars_of(body: str, *fields: str) -> list[TimedBar]:
    """Return the bars of a lesson as played; there must be no fault in it."""
    expansion = expanded(body, *fields)
    assert messages(expansion) == []
    return [played.bar for played in expansion.timeline.bars]


def messages(expansion: Expansion) -> list[str]:
    """Return what is wrong, as text."""
    return [found.message for found in expansion.diagnostics]


def rules(expansion: Expansion) -> list[str]:
    """Return the names of the rules that found something."""
    return [found.rule for found in expansion.diagnostics]


def plucked(bar: TimedBar) -> list[str]:
    """Return the notes of a bar as `onset finger string@fret`."""
    return [f"{note.onset} {note.finger}{note.string}@{note.fret}" for note in bar.notes]


def rings(bar: TimedBar) -> dict[tuple[Fraction, int], Fraction]:
    """Return how long the notes ring, by onset and string."""
    return {(note.onset, note.string): note.ring for note in bar.notes}


def bass(expansion: Expansion, name: str) -> str:
    """Return the bass order of a voicing as text."""
    return " ".join(map(str, expansion.timeline.voicings[name].bass))
