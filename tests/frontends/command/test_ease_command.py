"""`fretloom ease`: what it prints, writes and returns."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from places import EXAMPLES

from fretloom.frontends.command.main import main

Captured = pytest.CaptureFixture[str]


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Work in a folder with two examples."""
    for name in ("kiln-lane-shuffle", "clay-and-water"):
        shutil.copy(EXAMPLES / f"{name}.lesson", tmp_path)
    (tmp_path / "easy").mkdir()
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_without_a_level_it_says_what_is_beyond_each(here: Path, capsys: Captured) -> None:
    """As text, or as JSON."""
    assert main(["ease", "kiln-lane-shuffle.lesson"]) == 0
    assert "For beginners apart from Bm7, C#m7, B7" in capsys.readouterr().out
    assert main(["ease", "kiln-lane-shuffle.lesson", "--format", "json"]) == 0
    assert json.loads(capsys.readouterr().out)["suits"] == "intermediate"


def test_with_a_level_it_writes_an_easier_lesson_that_checks(here: Path, capsys: Captured) -> None:
    """In another folder too, from where it names the first one."""
    for output in ("easy.lesson", "easy/easy.lesson"):
        ease = ["ease", "kiln-lane-shuffle.lesson", "--level", "beginner", "-o", output]
        assert main(ease) == 0
        assert "becomes x42100" in capsys.readouterr().err
        assert main(["check", output]) == 0
    text = (here / "easy" / "easy.lesson").read_text("utf-8")
    assert 'based on "../kiln-lane-shuffle.lesson"' in text


def test_to_standard_output_it_is_the_lesson_or_the_json(here: Path, capsys: Captured) -> None:
    """What is different goes to standard error, or is in the JSON."""
    assert main(["ease", "kiln-lane-shuffle.lesson", "--level", "beginner"]) == 0
    lesson = capsys.readouterr().out
    assert lesson.startswith('lesson "Kiln Lane Shuffle, for beginners"\n')
    ease = ["ease", "kiln-lane-shuffle.lesson", "--level", "beginner", "--format", "json"]
    assert main(ease) == 0
    assert json.loads(capsys.readouterr().out)["lesson"] == lesson


def test_where_nothing_has_to_be_easier_nothing_is_written(here: Path, capsys: Captured) -> None:
    """It says so, and the exit code is 3."""
    ease = ["ease", "clay-and-water.lesson", "--level", "beginner", "-o", "easy.lesson"]
    assert main(ease) == 3
    assert "nothing is beyond beginners" in capsys.readouterr().err
    assert not (here / "easy.lesson").exists()


def test_an_output_needs_a_level(here: Path, capsys: Captured) -> None:
    """For whom it is to be easier is not guessed."""
    assert main(["ease", "kiln-lane-shuffle.lesson", "-o", "easy.lesson"]) == 2
    assert "say for whom it is to be easier: --level beginner" in capsys.readouterr().err


def test_a_lesson_with_errors_is_shown_and_not_eased(here: Path, capsys: Captured) -> None:
    """It has to be mended first."""
    (here / "bad.lesson").write_text('lesson "a"\nsection b\n  Q x2\n')
    assert main(["ease", "bad.lesson", "--level", "beginner", "-o", "easy.lesson"]) == 1
    assert "mend them first" in capsys.readouterr().err
    assert not (here / "easy.lesson").exists()
