"""Where names stand in a lesson: all places, and the name alone."""

from __future__ import annotations

from collections import Counter

from lesson_pool import LESSONS, Made

from fretloom.characters import composed
from fretloom.notation.model.walking.names import named
from fretloom.notation.model.walking.walk import uses
from fretloom.notation.syntax.read import read
from fretloom.source import Source
from fretloom.trade.guitar.voicing import NO_CHORD

TEXT = """\
lesson "Two cups"

voicings
  C       x32010
  C.high  like C  add 1@3

patterns
  plain  p , p m , p , -
  using  p , p , p , p

section verse  4 bars  using plain  "C and plain"
  "C" C | C : 3 C.high:1 using \t plain | N.C. | no chord
  using using
  C with p5 on 3 using using

form
  verse x2
    but using plain
    but bars 1-2 using using
    but bar 1: C.high using plain

step "verse"
  C is the voicing of the verse.
  show voicing C
  show change C to C.high at 60
  show pattern plain over C from 40 to 60
  show section verse
  show bars 1-2 of verse  # verse
  show form
"""


def test_every_place_of_a_name_is_found_and_nothing_else() -> None:
    """Quoted texts, prose, comments and words of the notation are no names."""
    found = named(read(Source("two.lesson", TEXT)))
    lines = Counter((one.kind, one.name, one.span.line) for one in found)
    where: dict[tuple[str, str], list[int]] = {}
    for kind, name, line in lines.elements():
        where.setdefault((kind, name), []).append(line)
    assert where == {
        ("voicing", "C"): [4, 5, 12, 12, 14, 24, 25, 26],
        ("voicing", "C.high"): [5, 12, 20, 25],
        ("pattern", "plain"): [8, 11, 12, 18, 20, 26],
        ("pattern", "using"): [9, 13, 14, 19],
        ("section", "verse"): [11, 17, 27, 28],
    }


def test_where_a_name_is_given_is_told_from_where_it_is_used() -> None:
    """A section, a pattern and a voicing each have one such place."""
    given = [one for one in named(read(Source("two.lesson", TEXT))) if one.defines]
    assert [(one.kind, one.name, one.span.line, one.span.column) for one in given] == [
        ("voicing", "C", 4, 3),
        ("voicing", "C.high", 5, 3),
        ("pattern", "plain", 8, 3),
        ("pattern", "using", 9, 3),
        ("section", "verse", 11, 9),
    ]


def test_a_name_with_its_accents_apart_is_the_same_name() -> None:
    """The span is as long as the text has it."""
    (one,) = named(read(Source("a.lesson", "voicings\n  gru\u0308n  x32010\n")))
    assert (one.name, one.span.text, one.span.column) == ("gr\u00fcn", "gru\u0308n", 3)


@LESSONS.law()
def test_no_place_is_missing_and_each_is_the_name_alone(made: Made) -> None:
    """The model knows how often each name is given and used; the spans are where the text says it."""
    lesson = made.read
    parts = (
        ("voicing", lesson.voicings),
        ("pattern", lesson.patterns),
        ("section", lesson.sections),
    )
    given = Counter((kind, one.name) for kind, all_of in parts for one in all_of)
    used = Counter((one.kind, one.name) for one in uses(lesson))
    found = list(named(lesson))
    assert Counter((one.kind, one.name) for one in found if one.defines) == given
    assert Counter((one.kind, one.name) for one in found if not one.defines) == Counter(
        {one: count for one, count in used.items() if one != ("voicing", NO_CHORD)}
    )
    assert all(composed(one.span.text) == one.name for one in found)
    starts = [one.span.start for one in found]
    assert starts == sorted(set(starts))
