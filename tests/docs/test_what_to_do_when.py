"""The answers to teachers' questions: each example is a lesson without errors and without warnings."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from places import EXAMPLES, PROJECT

from fretloom.api import check, expand, loads, sounds
from fretloom.model import Lesson
from fretloom.rule_facts import Severity

PAGE = (PROJECT / "docs" / "howto" / "what-to-do-when.md").read_text(encoding="utf-8")
(BASE,) = re.findall(r"^```lesson\n(.*?)^```$", PAGE, re.M | re.S)
ANSWERS = re.findall(r"^### ([^\n]+)\n(.*?)(?=^##|\Z)", PAGE, re.M | re.S)
_LINE = '  based on "two-cups.lesson"\n'


def example_of(answer: str) -> str:
    (found,) = re.findall(r"^```lesson-part\n(.*?)^```$", answer, re.M | re.S)
    return str(found)


def whole(part: str) -> str:
    """Return a lesson that is the one of the page with a part in the place of its own."""
    if part.startswith("lesson "):
        heading, rest = part.split("\n", 1)
        return f"{heading}\n{_LINE}{rest}"
    return f'lesson "Two Cups, another way"\n{_LINE}\n{part}'


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A collection with the lesson of the page and the voicings of the examples."""
    (tmp_path / "two-cups.lesson").write_text(BASE, encoding="utf-8")
    shutil.copytree(EXAMPLES / "voicings", tmp_path / "voicings")
    return tmp_path


def read(text: str, folder: Path) -> Lesson:
    return loads(text, path=folder / "another.lesson", root=folder)


@pytest.mark.parametrize(("question", "answer"), ANSWERS, ids=[one[0] for one in ANSWERS])
def test_examples_check_clean(question: str, answer: str, folder: Path) -> None:
    """With the lesson at the top, and as music: there are bars with notes."""
    lesson = read(whole(example_of(answer)), folder)
    found = [one for one in check(lesson) if one.severity is not Severity.INFO]
    assert [one.message for one in found] == []
    assert sum(len(one.bar.notes) for one in expand(lesson).bars) > 20


@pytest.mark.parametrize(("question", "answer"), ANSWERS, ids=[one[0] for one in ANSWERS])
def test_chords_sound_what_they_are_called(question: str, answer: str, folder: Path) -> None:
    """All that are played, those of the lesson at the top included: a tuning or a capo changes them."""
    lesson = read(whole(example_of(answer)), folder)
    played = {held.voicing.name for one in expand(lesson).bars for held in one.bar.voicings}
    wrong = [one for one in sounds(lesson).voicings if one.fit and not one.fit.accepted]
    assert {one.voicing.name for one in wrong} & played == set()


def test_examples_change_the_lesson(folder: Path) -> None:
    """An answer that changes nothing would be no answer; two change what is not heard, one adds a pattern."""
    base = expand(read(BASE, folder))
    same = [
        question
        for question, answer in ANSWERS
        if expand(read(whole(example_of(answer)), folder)).bars == base.bars
    ]
    assert same == [
        "Several lessons have the same voicings",
        "An error is wrong in your view",
    ]
