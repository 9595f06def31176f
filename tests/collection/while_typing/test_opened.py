"""A lesson as an editor has it: unsaved files, its root, what is settled for it."""

from __future__ import annotations

from pathlib import Path

import pytest
from typed_lessons import typed

from fretloom.collection.while_typing.opened import half_at, opened, settled_here
from fretloom.errors import LessonUnreadable
from fretloom.limits import LIMITS

SHARED = "voicings\n  C  x32010  fingers .32.1.\n"
LESSON = (
    'lesson "A"\n\nuse "shared.lesson"\n\npatterns\n  plain  p , p m , p i , p m\n\n'
    "section a  using plain\n  C\n"
)


def _rules(file: Path, text: str, others: dict[Path, str]) -> list[str]:
    return [one.rule for one in opened(file, text, others, settled_here(file, ())).findings]


def test_what_is_typed_counts_and_not_the_disk(tmp_path: Path) -> None:
    """A shared file that is open is read as it stands in the editor, whether it is saved or not."""
    file, shared = tmp_path / "a.lesson", tmp_path / "shared.lesson"
    assert _rules(file, LESSON, {}) == ["file-not-found"]
    assert _rules(file, LESSON, {shared: SHARED}) == []
    shared.write_text(SHARED.replace("C  ", "D  "))
    assert _rules(file, LESSON, {}) == ["unknown-voicing"]
    assert _rules(file, LESSON, {shared: SHARED}) == []


def test_a_text_no_file_could_hold_does_not_stand_for_one(tmp_path: Path) -> None:
    """What another text has wrong with it is said there; here the file on the disk counts."""
    file, shared = tmp_path / "a.lesson", tmp_path / "shared.lesson"
    shared.write_text(SHARED)
    assert _rules(file, LESSON, {shared: "\ud800"}) == []
    with pytest.raises(LessonUnreadable, match="half of a character"):
        _rules(file, LESSON + "\ud800", {})
    with pytest.raises(LessonUnreadable, match="too large"):
        _rules(file, "#" * (LIMITS.characters + 1), {})


def test_the_root_is_the_outermost_folder_that_is_open(tmp_path: Path) -> None:
    """It does not depend on where the server was started; a configuration says more."""
    inner = tmp_path / "songs" / "autumn"
    inner.mkdir(parents=True)
    file = inner / "a.lesson"
    assert settled_here(file, ()).root == inner
    assert settled_here(file, (inner, tmp_path / "songs", tmp_path / "else")).root == tmp_path / "songs"  # fmt: skip
    (tmp_path / "fretloom.toml").write_text("")
    assert settled_here(file, (inner,)).root == tmp_path


def test_a_configuration_changes_findings_as_for_a_check(tmp_path: Path) -> None:
    """Severities and files left out are those of `fretloom check`; a faulty one says why it does not count."""
    file = tmp_path / "a.lesson"
    text = LESSON.replace('use "shared.lesson"\n\n', SHARED + "  D  xx0232  fingers ...132\n\n")
    assert _rules(file, text, {}) == ["unused-voicing"]
    settings = tmp_path / "fretloom.toml"
    settings.write_text('[rules]\nunused-voicing = "off"\n')
    assert _rules(file, text, {}) == []
    settings.write_text('[rules]\nunused-voicing = "off"\n[house-style]\nheading = ["by"]\n')
    assert _rules(file, text, {}) == ["heading-lacks-line"]
    settings.write_text('leave-out = ["a.*"]\n')
    assert settled_here(file, ()).left_out
    assert _rules(file, text + "nonsense\n", {}) == []
    settings.write_text("[rules]\nnonsense = 1\n")
    settled = settled_here(file, (tmp_path,))
    assert (settled.root, "nonsense" in settled.fault) == (tmp_path, True)
    assert _rules(file, text, {}) == ["unused-voicing"]


def test_a_lesson_knows_what_it_needs(tmp_path: Path) -> None:
    """Also files that are not there, and those that others of its files name."""
    first, second = tmp_path / "first.lesson", tmp_path / "second.lesson"
    lesson, _ = typed(
        'use "first.lesson"\n', tmp_path / "a.lesson", {first: 'use "second.lesson"\n'}
    )
    assert lesson.needs == {first, second}


def test_a_lesson_in_a_folder_that_is_not_there_yet_is_helped_like_others(tmp_path: Path) -> None:
    """Its root is the nearest folder that is there, whether a folder is open or not."""
    file = tmp_path / "later" / "still" / "a.lesson"
    for folders in ((), (tmp_path / "later",)):
        settled = settled_here(file, folders)
        assert settled.root == tmp_path
        lesson = opened(file, LESSON, {tmp_path / "later/still/shared.lesson": SHARED}, settled)
        assert lesson.findings == ()


def test_half_of_a_character_has_a_place() -> None:
    """The first of them; a whole one outside of the first plane is none."""
    assert half_at("C \U0001f3b8\ude00\ud83d") == 3
    assert half_at("C \U0001f3b8") is None
