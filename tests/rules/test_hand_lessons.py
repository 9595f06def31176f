"""Lessons that no hand can play are refused, each for its own reason; ordinary ones are left alone."""

from __future__ import annotations

from pathlib import Path

import pytest

from fretloom.api import check, load
from fretloom.diagnostics import Severity

LESSONS = sorted((Path(__file__).parents[1] / "lessons" / "hands").glob("*.lesson"))
EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.lesson"))


def test_there_are_at_least_twenty() -> None:
    """The folder has not been emptied by accident."""
    assert len(LESSONS) >= 20


@pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.stem)
def test_unplayable_lesson_is_refused_for_its_reason(path: Path) -> None:
    """The only errors are of the rule that the file's name and first line give, and they say what to do."""
    rule = path.stem.partition("--")[0]
    assert path.read_text("utf-8").startswith(f"# refused: {rule}\n")
    errors = [one for one in check(load(path)) if one.severity is Severity.ERROR]
    assert {one.rule for one in errors} == {rule}
    assert all(one.hint for one in errors)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_ordinary_lessons_get_no_word_about_hands(path: Path) -> None:
    """What a group really plays raises no warning about hands."""
    from fretloom.rules.registry import rules_of

    hands = {rule.name for rule in rules_of("hands")}
    assert not [one for one in check(load(path)) if one.rule in hands]
