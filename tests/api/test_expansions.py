"""No text of a lesson is expanded twice, whatever is asked for."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from fretloom import api
from fretloom.frontends.command.main import main
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.syntax.writing.format import format_lesson
from fretloom.performance.expansion import expand
from fretloom.performance.expansion.staging import Staged

LESSON = """lesson "Two cups"
  capo 2
  plays in C
  meter 4/4

voicings
  C   x32010  {c}  bass 5 4 5 4
  Am  x02210  {am}  bass 5 4 5 4

patterns
  plain  p , p m , p i , p m

section tune  using plain
  C | Am | C | Am
"""
GIVEN = LESSON.format(c="fingers .32.1.", am="fingers ..231.")
OPEN = LESSON.format(c="", am="")
#: An open string that the finger named for it cannot hold: an error, and yet all is there to be played.
WRONG = GIVEN.replace("fingers .32.1.", "fingers .3211.")
COMMANDS = (
    ("check",),
    ("export", "--to", "tab"),
    ("export", "--to", "json"),
    ("sounds",),
    ("hands",),
)


@pytest.fixture
def expanded(monkeypatch: pytest.MonkeyPatch) -> Counter[str]:
    """How often each text has been expanded; patterns laid out by themselves have no text."""
    counted: Counter[str] = Counter()
    stage = expand.stage

    def counting(lesson: Lesson, *others: Any) -> Staged:
        if lesson.blocks:
            counted[format_lesson(lesson)] += 1
        return stage(lesson, *others)

    monkeypatch.setattr(expand, "stage", counting)
    return counted


def run(folder: Path, text: str, *words: str) -> int:
    """Run a command on a text; its file comes last."""
    file = folder / "tune.lesson"
    file.write_text(text, encoding="utf-8")
    return main([*words, str(file)])


@pytest.mark.parametrize("words", COMMANDS, ids=" ".join)
@pytest.mark.parametrize("text", [GIVEN, OPEN], ids=["fingers given", "fingers open"])
def test_a_lesson_is_expanded_once(
    tmp_path: Path, expanded: Counter[str], words: tuple[str, ...], text: str
) -> None:
    """Checking, exporting and advising go by one and the same expansion."""
    assert run(tmp_path, text, *words) == 0
    assert list(expanded.values()) == [1]


@pytest.mark.parametrize(
    "asked", [api.check, api.expand, api.export_tab, api.export_json, api.sounds, api.hands],
    ids=lambda asked: asked.__name__,
)  # fmt: skip
def test_the_library_expands_a_lesson_once(
    expanded: Counter[str], asked: Callable[[Lesson], object]
) -> None:
    """Whoever gives a function a lesson, not one examined before, waits for one expansion."""
    asked(api.loads(OPEN))
    assert list(expanded.values()) == [1]


def test_a_lesson_exported_despite_its_errors_is_expanded_once(
    tmp_path: Path, expanded: Counter[str]
) -> None:
    """What was found wrong on the way is found in the same expansion."""
    assert run(tmp_path, WRONG, "check") == 1
    expanded.clear()
    assert run(tmp_path, WRONG, "export", "--despite-errors", "--to", "tab") == 0
    assert list(expanded.values()) == [1]


@pytest.mark.parametrize("text", [GIVEN, OPEN], ids=["fingers given", "fingers open"])
def test_capos_are_suggested_with_one_expansion_for_each_text(
    tmp_path: Path, expanded: Counter[str], text: str
) -> None:
    """The lesson as it stands and those of other capos, eight at most; none of them is expanded twice."""
    assert run(tmp_path, text, "suggest", "capo") == 0
    assert 1 < len(expanded) <= 8
    assert set(expanded.values()) == {1}
