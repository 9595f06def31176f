"""Lessons that no hand can play are refused, each for its own reason; ordinary ones are left alone."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import places
import pytest
from attrs import evolve

from fretloom.api import check, load, loads
from fretloom.notation.model.heading import Setting
from fretloom.notation.model.lesson import Lesson
from fretloom.rule_facts import Severity, rules_of
from fretloom.trade.music.tempo import Tempo

LESSONS = sorted((places.TESTS / "lessons" / "hands").glob("*.lesson"))
EXAMPLES = sorted(places.EXAMPLES.glob("*.lesson"))


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
    hands = {rule.name for rule in rules_of("hands")}
    assert not [one for one in check(load(path)) if one.rule in hands]


@pytest.mark.parametrize("path", [*LESSONS, *EXAMPLES], ids=lambda path: path.stem)
def test_halving_the_tempo_never_adds_a_finding(path: Path) -> None:
    """Played half as fast, a lesson gets no more findings about hands and none graver."""
    fast = load(path)
    assert fast.heading is not None
    halved = tuple(_halved(line) for line in fast.heading.settings)
    blocks = tuple(
        evolve(block, settings=halved) if block is fast.heading else block for block in fast.blocks
    )
    slow = evolve(fast, blocks=blocks)
    before, after = _graveness(fast), _graveness(slow)
    assert all(after[rule] <= before[rule] for rule in after)


def _halved(line: object) -> object:
    if isinstance(line, Setting) and isinstance(line.value, Tempo):
        return evolve(line, value=evolve(line.value, per_minute=line.value.per_minute / 2))
    return line


def _graveness(lesson: Lesson) -> Counter[str]:
    names = {rule.name for rule in rules_of("hands")}
    weight = {Severity.ERROR: 2, Severity.WARNING: 1, Severity.INFO: 0}
    count: Counter[str] = Counter()
    for one in check(lesson):
        if one.rule in names:
            family = (
                "hop"
                if one.rule.startswith("hop")
                else "pick"
                if one.rule.startswith("pick-r")
                else one.rule
            )
            count[family] += weight[one.severity]
    return count


@pytest.mark.parametrize("text", ["", 'lesson "Empty"\n', "voicings\n  C  x32010\n", "form\n"])
def test_a_lesson_in_which_nothing_is_played_is_no_trouble(text: str) -> None:
    """Files of voicings alone, and empty ones, are checked like others."""
    assert not [one for one in check(loads(text)) if one.rule.startswith(("change", "hop", "pick"))]
