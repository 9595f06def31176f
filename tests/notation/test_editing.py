"""Lessons changed in one place: by a line of the notation or by a value, with the rest as it was."""

from __future__ import annotations

from collections.abc import Callable
from difflib import unified_diff

import pytest

import fretloom
from fretloom import Lesson, model
from fretloom.diagnostics import LessonFaulty
from fretloom.errors import FretloomError, ModelError
from fretloom.model import (  # fmt: skip
    Bar,
    Part,
    with_bar,
    with_form,
    with_pattern,
    with_section,
    with_setting,
    with_voicing,
)

TEXT = """lesson "Two cups"
  tempo 80  # slowly

voicings
  C  x32010
  # the big one
  G  320003

patterns
  plain  p , p m , p i , p m

section verse  using plain
  pickup 1: C { p }
  C | G x2 | C G
  repeat 2
    C
    ending 1: G | C
    ending 2: C
  end
  last 2: C { p, p }

form
  verse
"""


def changes(change: Callable[[Lesson], Lesson], text: str = TEXT) -> list[str]:
    """Return the lines that go and come when a lesson is changed."""
    lesson = fretloom.loads(text)
    assert lesson.faults == ()
    new = change(lesson)
    assert fretloom.loads(fretloom.dumps(new)) == new
    lines = unified_diff(fretloom.dumps(lesson).split("\n"), fretloom.dumps(new).split("\n"), n=0)
    return [line.replace("  ", "") for line in lines if not line.startswith(("---", "+++", "@@"))]


@pytest.mark.parametrize(
    ("number", "gone", "come"),
    [
        (0, "pickup 1: C { p }", "pickup 1: G:2 C:2"),
        (1, "C | G x2 | C G", "G:2 C:2 | G x2 | C G"),
        (4, "C | G x2 | C G", "C | G x2 | G:2 C:2"),
        (5, "C", "G:2 C:2"),
        (7, "ending 1: G | C", "ending 1: G | G:2 C:2"),
        (8, "ending 2: C", "ending 2: G:2 C:2"),
        (9, "last 2: C { p, p }", "last 2: G:2 C:2"),
    ],
)
def test_a_bar_is_counted_as_messages_count(number: int, gone: str, come: str) -> None:
    """`x2` is two bars, the pickup is 0, endings and an incomplete last bar count."""
    found = changes(lambda lesson: with_bar(lesson, "verse", number, "G:2 C:2"))
    assert found == [f"-{gone}", f"+{come}"]


def test_a_bar_can_be_a_value() -> None:
    """As `fretloom.model` makes it."""
    bar = Bar(parts=(Part(voicing="G"),), cue="Lamps")
    assert changes(lambda lesson: with_bar(lesson, "verse", 5, bar)) == ["-C", '+"Lamps" G']


def test_a_voicing_takes_the_place_of_the_one_of_its_name_with_its_comments() -> None:
    """A new one comes last."""
    lesson = with_voicing(fretloom.loads(TEXT), "D xx0232")
    assert [one.name for one in lesson.voicings] == ["C", "G", "D"]
    assert with_voicing(fretloom.loads(TEXT), "G 3x0003").voicings[1].margin.above == (
        "# the big one",
    )


def test_a_lesson_without_such_a_block_gets_one_in_its_place() -> None:
    """Voicings come before patterns, sections before the form."""
    lesson = fretloom.loads('lesson "Air"\n\nform\n  a\n\nstep "One"\n  Slowly.\n')
    lesson = with_pattern(lesson, "plain  p , p , p , p")
    lesson = with_voicing(lesson, "C  x32010")
    lesson = with_section(lesson, "section a  using plain\n  C\n")
    lesson = with_form(lesson, "form\n  a x2\n")
    assert [type(one).__name__ for one in lesson.blocks] == ["Heading", "VoicingBlock", "PatternBlock", "Section", "Form", "Step"]  # fmt: skip
    assert lesson.form is not None
    assert lesson.form.entries[0].times == 2  # type: ignore[union-attr]


def test_a_section_takes_the_place_of_the_one_of_its_name() -> None:
    """Another one comes after the last."""
    lesson = fretloom.loads(TEXT)
    verse = with_section(lesson, "section verse  using plain\n  C\n")
    assert [one.name for one in verse.sections] == ["verse"]
    both = with_section(verse, "section tag  using plain\n  G\n")
    assert [type(one).__name__ for one in both.blocks][-3:] == ["Section", "Section", "Form"]


def test_a_line_of_the_heading_is_set() -> None:
    """In place of the one that sets the same, with its comment, else last."""
    assert changes(lambda lesson: with_setting(lesson, "tempo 96")) == ["-tempo 80# slowly", "+tempo 96# slowly"]  # fmt: skip
    assert changes(lambda lesson: with_setting(lesson, "capo 2")) == ["+capo 2"]


def test_lines_are_read_as_the_lesson_reads_them() -> None:
    """With its number of strings, and its way of naming notes."""
    lesson = fretloom.loads('lesson "Air"\n  tuning G4 C4 E4 A4\n  names german\n')
    assert with_voicing(lesson, "H  4322").voicings[0].frets == (4, 3, 2, 2)
    with pytest.raises(ModelError, match=r"^voicing: H has 6 frets, but the tuning has 4 strings"):
        with_voicing(lesson, "H  x24442")
    keyed = with_setting(lesson, "plays in H")
    assert fretloom.dumps(keyed).endswith("names german\n  plays in H\n")


def test_what_was_wrong_before_is_forgotten_and_the_rest_is_reported_again() -> None:
    """Findings of the changed lesson have their places in its own text."""
    lesson = fretloom.loads(TEXT.replace("C G\n", "C F\n").replace("  tempo 80", "  temmpo 80"))
    assert [one.rule for one in fretloom.check(lesson) if one.severity.value == "error"] == ["unknown-word", "unknown-voicing"]  # fmt: skip
    mended = with_bar(lesson, "verse", 4, "C G")
    (left,) = [one for one in fretloom.check(mended) if one.severity.value == "error"]
    assert (left.rule, left.span.text) == ("unknown-word", "temmpo")
    assert left.span.source.text == fretloom.dumps(mended)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda one: with_bar(one, "vers", 1, "C"), r"there is no section 'vers'; did you mean verse\?"),
        (lambda one: with_bar(one, "coda", 1, "C"), "there is no section 'coda'; there are: verse"),
        (lambda one: with_bar(one, "verse", 10, "C"), "section verse has no bar 10: its bars are 1 to 9"),
        (lambda one: with_bar(one, "verse", -1, "C"), "section verse has no bar -1"),
        (lambda one: with_bar(one, "verse", 3, "C"), r"bar 3 of verse is one of 2 that are written as one \(x2\)"),
        (lambda one: with_bar(one, "verse", 1, "C | G"), "bar: 'C | G' is not one bar"),
        (lambda one: with_bar(one, "verse", 1, "tempo 90"), "bar: 'tempo 90' is not one bar"),
        (lambda one: with_bar(one, "verse", 1, "C ("), r"bar: .*\("),
        (lambda one: with_bar(one, "verse", 1, "C\n  G"), "bar: one line, not 2"),
        (lambda one: with_bar(one, "verse", 1, ""), "bar: one line, not 0"),
        (lambda one: with_voicing(one, "C"), "voicing: "),
        (lambda one: with_voicing(one, "C x32010\nsection evil"), "voicing: one line, not 2"),
        (lambda one: with_pattern(one, "plain  q"), "pattern: `q` is not a pluck"),
        (lambda one: with_setting(one, "tempo 9"), "setting: tempo 9 is outside 10 to 400"),
        (lambda one: with_setting(one, 'use "a.lesson"'), "setting: .*is not one setting"),
        (lambda one: with_section(one, "voicings\n  C x32010\n"), "section: .* is not one section"),
        (lambda one: with_section(one, "section a\n  C\n\nform\n  a\n"), "section: .* is not one section"),
        (lambda one: with_form(one, ""), "form: '' is not one form"),
    ],
)  # fmt: skip
def test_what_cannot_be_changed_is_said(change: Callable[[Lesson], Lesson], said: str) -> None:
    """The message names what is missing, or what is wrong with the line."""
    with pytest.raises(ModelError, match=f"^{said}"):
        change(fretloom.loads(TEXT))


@pytest.mark.parametrize(
    ("function", "given"),
    [(with_voicing, 7), (with_pattern, None), (with_setting, b"tempo 96"), (with_section, 7), (with_form, [])],
)  # fmt: skip
def test_what_is_neither_a_value_nor_a_text_is_a_type_error(function: Callable[..., Lesson], given: object) -> None:  # fmt: skip
    """It names what was wanted."""
    with pytest.raises(TypeError, match=f"^{function.__name__.removeprefix('with_')} is a"):
        function(fretloom.loads(TEXT), given)


def test_a_lesson_that_was_not_read_to_its_end_cannot_be_changed_or_written() -> None:
    """The end of its text would be lost."""
    lesson = fretloom.loads('lesson "Air"\n' + "  temmpo 80\n" * 120 + "\nsection a\n  C\n")
    for use in (fretloom.dumps, lambda one: with_voicing(one, "C  x32010")):
        with pytest.raises(LessonFaulty, match="not read to its end"):
            use(lesson)
    assert isinstance(LessonFaulty("", ()), FretloomError)
    assert model.LAST == -1
