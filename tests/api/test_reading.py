"""Lessons that were built without a text."""

from __future__ import annotations

from pathlib import Path

import pytest
from attrs import evolve

import fretloom
from fretloom import api
from fretloom.api.reading import with_text
from fretloom.diagnostics import LessonFaulty
from fretloom.notation.model.heading import Heading

LESSON = """lesson "Two cups"

use "open.lesson"

patterns
  plain  p , p m , p i , p m

section tune  using plain
  C | C
"""


def test_a_lesson_without_a_text_keeps_the_files_it_uses(tmp_path: Path) -> None:
    """Written out to get one, it still has the voicings of the file that it names."""
    (tmp_path / "open.lesson").write_text("voicings\n  C  x32010  fingers .32.1.  bass 5 4 5 4\n")
    loaded = api.loads(LESSON, root=tmp_path)
    built = evolve(api.lesson_from_json(api.lesson_to_json(loaded)), linked=loaded.linked)
    assert built.source is None
    assert with_text(built).linked == loaded.linked
    assert api.check(built) == []
    assert len(api.expand(built).bars) == 2


def test_a_lesson_through_json_is_not_linked_and_cannot_be_exported(tmp_path: Path) -> None:
    """The line that names a file has an error, until the lesson is linked again."""
    (tmp_path / "open.lesson").write_text("voicings\n  C  x32010  fingers .32.1.  bass 5 4 5 4\n")
    sent = api.lesson_from_json(api.lesson_to_json(api.loads(LESSON, root=tmp_path)))
    (found,) = api.check(sent)
    assert (found.rule, found.severity, found.span.line) == (
        "file-not-found",
        api.Severity.ERROR,
        3,
    )
    with pytest.raises(LessonFaulty):
        api.export(sent, to="json", despite_errors=True)
    linked = api.link(sent, root=tmp_path)
    assert linked == sent
    assert api.check(linked) == []
    assert len(api.expand(linked).bars) == 2


def test_a_lesson_that_is_changed_behaves_as_if_read_from_its_own_text(tmp_path: Path) -> None:
    """Old faults go, new ones have their places, and files that were linked stay so."""
    (tmp_path / "open.lesson").write_text("voicings\n  C  x32010  fingers .32.1.  bass 5 4 5 4\n")
    loaded = api.loads("# odd   lines\n" + LESSON.replace('"Two cups"', "Two cups"), root=tmp_path)
    assert [one.rule for one in loaded.faults] == ["not-understood"]
    heading, *others, section = loaded.blocks
    bars = evolve(section.lines[0].bars[0], times=3)
    changed = evolve(
        loaded,
        blocks=(
            Heading(title="Two cups", margin=heading.margin),
            *others,
            evolve(section, stated_bars=8, lines=(evolve(section.lines[0], bars=(bars,)),)),
        ),
    )
    assert (changed.source, changed.faults) == (None, ())
    (found,) = api.check(changed)
    assert found.rule == "section-length"
    assert found.span.source.text == api.dumps(changed)
    assert found.span.text == "8"


def test_other_links_leave_a_lesson_its_text(tmp_path: Path) -> None:
    """Only other blocks make another text; a file that is no longer linked is missed."""
    (tmp_path / "open.lesson").write_text("voicings\n  C  x32010  fingers .32.1.  bass 5 4 5 4\n")
    loaded = api.loads(LESSON, root=tmp_path)
    unlinked = evolve(loaded, linked={})
    assert unlinked.source is loaded.source
    assert [one.rule for one in api.check(unlinked)] == ["file-not-found"]


def test_a_lesson_with_a_text_is_left_as_it_is() -> None:
    """Its findings point into the text that its author wrote."""
    loaded = api.loads(LESSON)
    assert with_text(loaded) is loaded


@pytest.mark.parametrize("text", ["\ufeff\ufeffzzz(\n", "\ufeff\ufeff\n\nlesson x\n"])
def test_a_mark_behind_the_byte_order_mark_is_kept(text: str) -> None:
    """The first is the file's and none of the text; the second was lost when what is written was read."""
    lesson = fretloom.loads(text)
    assert "hidden-character" in [fault.rule for fault in lesson.faults]
    assert fretloom.dumps(lesson) == text
    assert fretloom.loads(fretloom.dumps(lesson)) == lesson
    assert fretloom.dumps(fretloom.loads("\ufefflesson x\n")) == fretloom.dumps(
        fretloom.loads("lesson x\n")
    )
