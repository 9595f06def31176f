"""What steps show, looked up."""

from __future__ import annotations

from fractions import Fraction

import pytest
from places import EXAMPLES
from reading_through import reading_of

from fretloom.api.reading import examine, load
from fretloom.formats.students.telling.pieces import (
    BarsPiece,
    ChangePiece,
    PatternPiece,
    Pieces,
    ShapePiece,
    SongPiece,
    Tempos,
)

LESSON = """
lesson "Kiln Lane Evening"
  tuning standard
  meter 4/4

voicings
  C      x32010  fingers .32.1.
  G      320003  fingers 21...3
  G.bar  355433  fingers 134211

patterns
  plain   p , i , p , i
  unused  p , - , p , -

section verse  using plain  "First"
  pickup 1: G
  C | G | G.bar | C

form
  verse

step "Look"
  One line,
  and G.bar goes on.
  show voicing G.bar
  After it.
  show change C to G at 60
  show pattern plain
  show pattern unused over G from 60 to 96
  show bars 2-3 of verse
  show bar 4 of verse
  show section verse
  show form at 84
"""


def _step():
    reading = reading_of(LESSON)
    (step,) = Pieces.of(reading).steps(reading.material.steps)
    return step


def test_lines_in_a_row_are_one_paragraph_and_tags_stay_with_the_teacher():
    assert _step().text == ("One line, and G at fret 3 goes on.", "After it.")


def test_each_line_shows_its_piece():
    shape, change, plain, unused, bars, bar, section, song = _step().pieces
    assert isinstance(shape, ShapePiece)
    assert (shape.title, shape.shape.use.plucked != frozenset()) == ("G at fret 3", True)
    assert isinstance(change, ChangePiece)
    assert (change.title, change.tempos) == (
        "C to G",
        Tempos(start=Fraction(60), goal=Fraction(60)),
    )
    assert change.change is not None
    assert isinstance(plain, PatternPiece)
    assert plain.title == "Plain"
    assert [one.voicing.name for one in plain.bars[0].voicings] == ["G"]
    assert isinstance(unused, PatternPiece)
    assert unused.title == "Unused, over G"
    assert unused.tempos == Tempos(start=Fraction(60), goal=Fraction(96))
    assert isinstance(bars, BarsPiece)
    assert (bars.title, [one.number for one in bars.bars]) == ("First, bars 2 to 3", [2, 3])
    assert isinstance(bar, BarsPiece)
    assert bar.title == "First, bar 4"
    assert isinstance(section, BarsPiece)
    assert [one.number for one in section.bars] == [0, 1, 2, 3, 4]
    assert isinstance(song, SongPiece)
    assert song.title == "The whole song"


def test_a_change_without_fingers_is_shown_and_not_judged():
    reading = reading_of(LESSON.replace("  fingers .32.1.", "").replace("x32010", "x-17-2-0-1-0"))
    found = [
        one
        for one in Pieces.of(reading).steps(reading.material.steps)[0].pieces
        if isinstance(one, ChangePiece)
    ]
    assert [one.change for one in found] == [None]


def test_what_the_lesson_does_not_have_is_not_shown():
    reading = reading_of(
        LESSON.replace("show voicing G.bar", "show voicing F").replace(
            "section verse\n", "section none\n"
        )
    )
    kinds = [
        type(one).__name__ for one in Pieces.of(reading).steps(reading.material.steps)[0].pieces
    ]
    assert "ShapePiece" not in kinds


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.lesson")), ids=lambda one: one.stem)
def test_every_line_of_an_example_shows_something(path):
    reading = examine(load(path)).reading
    shown = Pieces.of(reading).steps(reading.material.steps)
    wanted = [sum(hasattr(line, "kind") for line in step.lines) for step in reading.material.steps]
    assert [len(step.pieces) for step in shown] == wanted
