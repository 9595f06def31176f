"""`fretloom handout` as one types it."""

from __future__ import annotations

from pathlib import Path

import pytest

from fretloom.frontends.command.main import main

LESSON = """lesson "Slow Kettle"
  meter 4/4

voicings
  C  x32010
  G  320003

patterns
  plain  p , i , p , i

section verse  using plain
  C | G
"""


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    Path("tuesday-group").mkdir()
    Path("tuesday-group", "kettle.lesson").write_text(LESSON)
    return tmp_path


def test_a_lesson_becomes_three_pages(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["handout", "tuesday-group/kettle.lesson", "-o", "out"]) == 0
    names = sorted(one.name for one in Path("out").iterdir())
    assert names == ["kettle.handout.html", "kettle.song-sheet.html", "kettle.wall-card.html"]
    assert "wrote out/kettle.handout.html" in capsys.readouterr().err


def test_a_folder_has_an_index_with_its_name(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["handout", "tuesday-group", "-o", "out", "--sheet", "handout"]) == 0
    assert sorted(one.name for one in Path("out").iterdir()) == [
        "index.html",
        "kettle.handout.html",
    ]
    assert "<h1>Tuesday group</h1>" in Path("out", "index.html").read_text(encoding="utf-8")
    capsys.readouterr()
    assert main(["handout", "tuesday-group", "-o", "out", "--sheet", "handout"]) == 0
    assert capsys.readouterr().err == "fretloom: 2 files were as they should be, and left alone\n"


def test_options_reach_the_page(here: Path) -> None:
    command = [
        "handout",
        "tuesday-group",
        "-o",
        "out",
        "--parts",
        "shapes, road",
        "--large",
        "--mirrored",
    ]
    assert main(command) == 0
    page = Path("out", "kettle.handout.html").read_text(encoding="utf-8")
    assert 'class="handout large"' in page
    assert "The thick string is on the right." in page
    assert 'id="song"' not in page


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (["--parts", "roads"], "parts is any of road, shapes, picking"),
        (["--sheet", "poster"], "sheet is one of handout, song-sheet, wall-card"),
        (["--page-size", "a3"], "page_size is one of a4, letter"),
    ],
)
def test_what_is_not_known_is_refused(
    here: Path, capsys: pytest.CaptureFixture[str], more, said
) -> None:
    assert main(["handout", "tuesday-group", "-o", "out", *more]) == 2
    assert said in capsys.readouterr().err
    assert not Path("out").exists()


def test_a_lesson_with_errors_is_refused_and_said(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    Path("tuesday-group", "weir.lesson").write_text(LESSON.replace("C | G", "C | H9"))
    assert main(["handout", "tuesday-group", "-o", "out"]) == 1
    said = capsys.readouterr().err
    assert "so nothing was handed out of it" in said
    assert "H9" in said
    assert Path("out", "kettle.handout.html").exists()
    assert "Slow Kettle" in Path("out", "index.html").read_text(encoding="utf-8")


def test_a_folder_without_lessons_is_said(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    Path("empty").mkdir()
    assert main(["handout", "empty", "-o", "out"]) == 2
    assert "there are no .lesson files in empty" in capsys.readouterr().err
