"""`fretloom practice`, and what it says of what cannot be."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from places import EXAMPLES
from practice_lessons import STEPS, TUNE

from fretloom.frontends.command.main import main

LESSON = str(EXAMPLES / "kiln-lane-shuffle.lesson")
EASY = str(EXAMPLES / "kiln-lane-shuffle-easy.lesson")


def _said(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    code = main(["practice", *words])
    out, err = capsys.readouterr()
    return code, out, err


def test_it_prints_a_dated_page(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = _said(
        capsys, LESSON, "--student", "Ada", "--from", "2026-11-30", "--days", "2"
    )
    assert (code, err) == (0, "")
    assert out.startswith("Practice: Kiln Lane Shuffle\n")
    assert "For Ada\n2 days from Monday 30 November 2026, 20 minutes a day.\n" in out
    assert "Day 2: Tuesday 1 December 2026\n" in out


def test_it_prints_json(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = _said(capsys, LESSON, "--format", "json", "--minutes", "30", "--ladder", "3")
    data = json.loads(out)
    assert (code, data["format"], data["minutes"]) == (0, "fretloom-practice", 30)
    assert max(len(part["tempos"]["ladder"]) for part in data["steps"][0]["parts"]) == 3


def test_what_other_lessons_taught_is_not_new(capsys: pytest.CaptureFixture[str]) -> None:
    """Several lessons may be named."""
    alone = json.loads(_said(capsys, LESSON, "--format", "json")[1])["new"]
    after = json.loads(_said(capsys, LESSON, "--knows", EASY, "--format", "json")[1])["new"]
    both = json.loads(
        _said(capsys, LESSON, "--knows", EASY, "--knows", LESSON, "--format", "json")[1]
    )["new"]
    assert len(alone) > len(after) > len(both) == 0
    assert all(one in alone for one in after)


def test_lines_keep_to_the_width(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = _said(capsys, LESSON, "--width", "50")
    assert max(map(len, out.splitlines())) <= 50


def test_the_level_changes_the_tempos(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = _said(capsys, LESSON, "--level", "beginner")
    assert "for a beginner." in out


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["--minutes", "0"], "--minutes is a whole number from 10 to 120, not 0"),
        (["--minutes", "1000000000"], "--minutes is a whole number from 10 to 120, not '1000000000'"),
        (["--minutes", "9" * 5000], "--minutes is a whole number from 10 to 120, not '9999"),
        (["--minutes", "soon"], "--minutes is a whole number from 10 to 120, not 'soon'"),
        (["--days", "-1"], "--days is a whole number from 1 to 60, not -1"),
        (["--days", "61"], "--days is a whole number from 1 to 60, not 61"),
        (["--ladder", "9"], "--ladder is a whole number from 3 to 5, not 9"),
        (["--from", "tomorrow"], "--from is a day written YYYY-MM-DD, not 'tomorrow'"),
        (["--from", "2026-02-30"], "--from is a day written YYYY-MM-DD, not '2026-02-30'"),
        (["--from", "9999-12-31"], "7 days from 9999-12-31 on go beyond the calendar"),
        (["--student", "<b>Ada</b>"], "--student is a name of at most 60 letters, without brackets"),
        (["--student", "A\x1b[2Jda"], "--student is a name of at most 60 letters, without brackets"),
        (["--student", "x" * 100], "--student is a name of at most 60 letters, without brackets"),
        (["--level", "expert"], "--level is one of lesson, beginner, intermediate, advanced, not 'expert'"),
        (["--width", "3"], "--width is a whole number from 40 to 10000, not 3"),
        (["--knows", "nowhere.lesson"], "there is no file nowhere.lesson"),
    ],
)  # fmt: skip
def test_what_cannot_be_gets_a_message(
    capsys: pytest.CaptureFixture[str], words: list[str], says: str
) -> None:
    """On one line, without a page; what was typed is shown, not obeyed."""
    code, out, err = _said(capsys, LESSON, *words)
    assert (code, out) == (2, "")
    assert says in err
    assert "\x1b" not in err
    assert len(err) < 300


def test_a_lesson_with_errors_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Its errors are shown; with `--despite-errors` it goes, if it is clear what is played."""
    file = tmp_path / "tea.lesson"
    file.write_text(
        TUNE.replace("p+m , p i , p+m , p i", "p+m , p i , p+m , m1+a2"), encoding="utf-8"
    )
    code, out, err = _said(capsys, str(file))
    assert (code, out) == (1, "")
    assert "so there is nothing to practise yet; mend them, or say --despite-errors" in err
    code, out, err = _said(capsys, str(file), "--despite-errors")
    assert code == 0
    assert out.startswith("Practice: Two cups\n")
    assert "error" in err


def test_a_lesson_without_music_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "tea.lesson"
    file.write_text('lesson "Tea"\n', encoding="utf-8")
    code, out, err = _said(capsys, str(file))
    assert (code, out) == (2, "")
    assert "nothing is played in the lesson, so there is nothing to practise" in err


def test_the_page_is_an_export_too(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "cups.lesson"
    file.write_text(TUNE + STEPS, encoding="utf-8")
    assert (
        main(
            [
                "export",
                str(file),
                "-o",
                str(tmp_path / "cups.practice.txt"),
                "--begin",
                "2026-11-30",
            ]
        )
        == 0
    )
    written = (tmp_path / "cups.practice.txt").read_text(encoding="utf-8")
    capsys.readouterr()
    assert written == _said(capsys, str(file), "--from", "2026-11-30")[1]
