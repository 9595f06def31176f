"""Tempos of sections, of the form and of steps taken slower."""

from __future__ import annotations

from fractions import Fraction

from fretloom.arranging.easing.slower import slowed_form, slowed_section, slowed_step
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.syntax.read import read
from fretloom.notation.syntax.writing.format import format_lesson
from fretloom.source import Source

TEXT = """section verse
  tempo 120
  C | G
  ritardando to 15 over 1 bar
  C

form
  verse
    but tempo 90
    but ritardando to 60 over last 2 bars

step "Look"
  show form at 72
  show section verse from 60 to 96
  show section verse from 48 to 72
  show section verse from 84 to 96
"""


def half(share: Fraction = Fraction(1, 2)) -> str:
    """Return the lesson with half its tempos, and steps at 72 quarter notes a minute at most."""
    lesson = read(Source("<test>", TEXT))
    (section,), form, (step,) = lesson.sections, lesson.form, lesson.steps
    assert form is not None
    blocks = (
        slowed_section(section, share),
        slowed_form(form, share),
        slowed_step(step, Fraction(72)),
    )
    return format_lesson(Lesson(blocks=blocks))


def test_every_tempo_is_slower_by_the_same_share() -> None:
    """But never below the slowest that can be written."""
    assert "  tempo 60\n" in half()
    assert "but tempo 45\n" in half()
    assert "ritardando to 30 over last 2 bars" in half()
    assert "ritardando to 10 over 1 bar" in half()


def test_steps_climb_to_the_tempo_of_the_song_at_most() -> None:
    """A ladder that began above it keeps its steepness; one below it stays."""
    assert "show form at 72" in half()
    assert "verse from 60 to 72" in half()
    assert "verse from 48 to 72" in half()
    assert "verse from 63 to 72" in half()


def test_what_has_no_tempo_stays_the_same_object() -> None:
    """So that it need not be written again."""
    lesson = read(Source("<test>", 'section a\n  C\n\nform\n  a\n\nstep "b"\n  show form\n'))
    assert slowed_section(lesson.sections[0], Fraction(1, 2)) is lesson.sections[0]
    assert lesson.form is not None
    assert slowed_form(lesson.form, Fraction(1, 2)) is lesson.form
    assert slowed_step(lesson.steps[0], Fraction(40)) is lesson.steps[0]
