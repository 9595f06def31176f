"""What is written is no worse than what was read: nothing lost, nothing new found."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest
from lesson_pool import LESSONS, Made
from places import EXAMPLES

from fretloom.api import (
    Examined,
    Lesson,
    LessonFaulty,
    Severity,
    check,
    dumps,
    examine,
    files_named,
    formatted,
    load,
    loads,
    new_findings,
    suggest_capos,
    transpose,
    with_easiest_capo,
)
from fretloom.errors import FretloomError

FILES = sorted(EXAMPLES.rglob("*.lesson"))
BASE = """lesson "Two cups"
  capo 2
  plays in C
  meter 4/4

voicings
  C  x32010
  C7  like C  add 3@3

patterns
  plain  p , - , - , -

section tune  using plain
  C | C7
"""


def _faults(lesson: Lesson | Examined) -> Counter[str]:
    return Counter(one.rule for one in check(lesson) if one.severity is not Severity.INFO)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
@pytest.mark.parametrize("to", [{"capo": 0}, {"capo": 4}, {"plays": "C"}, {"plays": "G"}, {"plays": "Am"}], ids=str)  # fmt: skip
def test_a_lesson_in_another_key_is_sound_or_refused(path: Path, to: dict[str, str]) -> None:
    """Read back from its text, beside the files that it names, it has no error or warning that is new."""
    before = load(path, root=EXAMPLES)
    try:
        text = dumps(transpose(before, **to).lesson)  # type: ignore[arg-type]
    except LessonFaulty as error:
        assert error.diagnostics
        return
    except FretloomError:
        return
    assert _faults(loads(text, path=path, root=EXAMPLES)) <= _faults(before)


@LESSONS.law(most=12)
def test_a_made_lesson_with_another_capo_is_sound_or_refused(made: Made) -> None:
    """Whatever is written in it."""
    try:
        new = transpose(made.read, capo=made.number % 9).lesson
    except FretloomError:
        return
    assert _faults(loads(dumps(new))) <= _faults(made.read)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_lesson_with_the_easiest_capo_is_sound_or_refused(path: Path) -> None:
    """And each of the others, if it is named; with `despite_findings` all of them are written."""
    before = examine(load(path, root=EXAMPLES))
    try:
        choices = suggest_capos(before).choices
        text = dumps(with_easiest_capo(before))
    except FretloomError:
        return
    assert _faults(loads(text, path=path, root=EXAMPLES)) <= _faults(before)
    for choice in choices:
        if new_findings(before, choice.lesson):
            with pytest.raises(LessonFaulty, match="that this one does not have"):
                with_easiest_capo(before, capo=choice.capo)
        assert with_easiest_capo(before, capo=choice.capo, despite_findings=True) == choice.lesson


def test_what_would_be_found_is_carried_by_the_refusal() -> None:
    """And `despite_findings` gives the lesson all the same."""
    lesson = loads(BASE.replace("C | C7", "C7").replace("C  x32010", "C  x32010  # the root"))
    with pytest.raises(LessonFaulty, match="the new lesson would have 1 finding") as caught:
        transpose(lesson, plays="D")
    assert [one.rule for one in caught.value.diagnostics] == ["unused-voicing"]
    assert transpose(lesson, plays="D", despite_findings=True).lesson.voicings


def test_a_voicing_only_needed_by_those_like_it_is_left_out() -> None:
    """A remark says so; one with a comment stays."""
    found = transpose(loads(BASE.replace("C | C7", "C7")), plays="D")
    assert [one.name for one in found.lesson.voicings] == ["D7"]
    assert [type(one).__name__ for one in found.remarks].count("NoLongerNeeded") == 1


@pytest.mark.parametrize(
    "text", ["section a\n  C | C%0A\n", "tune\n", 'lesson "A\n', "a\n b\n c\n"]
)
def test_what_could_not_be_read_is_not_formatted(text: str) -> None:
    """Words would be lost; the faults are carried."""
    with pytest.raises(LessonFaulty, match="the lesson has") as caught:
        formatted(loads(text))
    assert caught.value.diagnostics


@LESSONS.law()
def test_made_lessons_are_formatted_with_their_line_ends(made: Made) -> None:
    """The net lets all of them through, with the ends of the text."""
    for end in ("\n", "\r\n", "\r"):
        text = made.text.replace("\n", end)
        assert formatted(loads(text)) == text


def test_the_files_that_a_lesson_is_made_from(tmp_path: Path) -> None:
    """Its own, and those named in it and in these, also where they could not be read."""
    (tmp_path / "a.lesson").write_text('lesson "A"\n  based on "sub/b.lesson"\nuse "gone.lesson"\n')
    (tmp_path / "sub").mkdir()
    (tmp_path / "sub" / "b.lesson").write_text('lesson "B"\n\nuse "../c.lesson"\n')
    (tmp_path / "c.lesson").write_text("voicings\n  C  x32010\n")
    names = files_named(load(tmp_path / "a.lesson"))
    relative = {str((tmp_path / name).resolve().relative_to(tmp_path.resolve())) for name in names}
    assert relative == {"a.lesson", "sub/b.lesson", "gone.lesson", "c.lesson"}
    assert files_named(loads("")) == ("<text>",)


def test_findings_that_a_lesson_has_already_do_not_stop_it() -> None:
    """A voicing that nothing plays is a warning before and after: the lesson is no worse for the capo."""
    before = loads(
        'lesson "Tea"\n  plays in C\nvoicings\n  C  x32010  fingers .32.1.\n  Am  x02210  fingers ..231.\n'
        "section a\n  C { p , p , p , p }\n"
    )
    assert [one.rule for one in check(before)] == ["unused-voicing"]
    assert [one.rule for one in check(transpose(before, capo=3).lesson)] == ["unused-voicing"]
