"""Where a name is given and used, over the files of a collection as an editor has them."""

from __future__ import annotations

from pathlib import Path

import pytest
from typed_lessons import typed

from fretloom import FretloomError, apply_edits
from fretloom.collection.while_typing.names_at import alike_at, everywhere_at, given_at, renamed_at
from fretloom.collection.while_typing.opened import settled_here

SHARED = "voicings\n  C  x32010  fingers .32.1.\n"
LESSON = 'use "shared.lesson"\n\nsection a\n  ^C | C\n\nform\n  a\n'


def test_a_name_is_given_where_the_editor_has_it(tmp_path: Path) -> None:
    """In the unsaved text of the shared file, not where the disk says."""
    (tmp_path / "shared.lesson").write_text(SHARED)
    others = {tmp_path / "shared.lesson": "# new\n" + SHARED}
    file = tmp_path / "a.lesson"
    lesson, at = typed(LESSON, file, others)
    span = given_at(lesson, at, {**others, file: lesson.source.text})
    assert span is not None
    assert (Path(span.source.name).name, span.line, span.text) == ("shared.lesson", 3, "C")
    assert given_at(lesson, 0, others) is None


def test_a_file_that_is_named_leads_to_its_start(tmp_path: Path) -> None:
    """`use` and `based on` are links."""
    (tmp_path / "shared.lesson").write_text(SHARED)
    lesson, _ = typed(LESSON, tmp_path / "a.lesson")
    span = given_at(lesson, 8, {})
    assert span is not None
    assert (Path(span.source.name).name, span.start) == ("shared.lesson", 0)


def test_a_name_is_found_in_all_files_that_mean_it(tmp_path: Path) -> None:
    """Another lesson that uses the shared file has it too, open or not; one with a C of its own does not."""
    (tmp_path / "shared.lesson").write_text(SHARED)
    (tmp_path / "b.lesson").write_text('use "shared.lesson"\nsection b\n  C\n')
    (tmp_path / "own.lesson").write_text(SHARED + "section c\n  C\n")
    file = tmp_path / "a.lesson"
    lesson, at = typed(LESSON, file, settled=settled_here(file, ()))
    found = everywhere_at(lesson, at, {file: lesson.source.text})
    assert [(one.path.name, one.span.line, one.defines) for one in found] == [
        ("a.lesson", 4, False), ("a.lesson", 4, False), ("b.lesson", 3, False), ("shared.lesson", 2, True),
    ]  # fmt: skip
    assert everywhere_at(lesson, 0, {}) == ()


def test_names_alike_are_of_one_kind() -> None:
    """A section `a` is not a pattern `a`."""
    lesson, at = typed("patterns\n  a  p , p , p , p\nsection a  using a\n  C using ^a\n")
    assert [(one.span.line, one.defines) for one in alike_at(lesson, at)] == [
        (2, True), (3, False), (4, False),
    ]  # fmt: skip


def test_a_name_that_cannot_be_is_refused_and_why(tmp_path: Path) -> None:
    """With what a check would find."""
    lesson, at = typed(SHARED + "section a\n  ^C\n", tmp_path / "a.lesson")
    with pytest.raises(FretloomError, match=r"1 finding that there is not now: .*Bb7"):
        renamed_at(lesson, at, "Bb7", {lesson.file: lesson.source.text})
    with pytest.raises(FretloomError, match="no voicing, pattern or section"):
        renamed_at(lesson, 3, "D", {})
    edits = renamed_at(lesson, at, "C.low", {lesson.file: lesson.source.text})
    assert apply_edits(lesson.source.text, edits) == lesson.source.text.replace(
        "C ", "C.low "
    ).replace("C\n", "C.low\n")


def test_an_open_text_that_no_lesson_can_be_gets_no_edit_and_no_place(tmp_path: Path) -> None:
    """What the disk has of it stands elsewhere."""
    (tmp_path / "shared.lesson").write_text(SHARED)
    (tmp_path / "b.lesson").write_text('use "shared.lesson"\nsection b\n  C\n')
    file = tmp_path / "a.lesson"
    lesson, at = typed(LESSON, file, settled=settled_here(file, ()))
    texts = {file: lesson.source.text, tmp_path / "b.lesson": '\n\nuse "shared.lesson"\n# \ud83d'}
    with pytest.raises(
        FretloomError, match=r"b\.lesson holds half of a character .* nothing was renamed"
    ):
        renamed_at(lesson, at, "C.low", texts)
    assert {one.path.name for one in everywhere_at(lesson, at, texts)} == {
        "a.lesson",
        "shared.lesson",
    }
