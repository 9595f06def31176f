"""`fretloom handout` as one types it."""

from __future__ import annotations

import sys
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
    assert "nothing was handed out of tuesday-group/weir.lesson" in said
    assert "H9" in said
    assert Path("out", "kettle.handout.html").exists()
    assert "Slow Kettle" in Path("out", "index.html").read_text(encoding="utf-8")


def test_a_folder_without_lessons_is_said(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    Path("empty").mkdir()
    assert main(["handout", "empty", "-o", "out"]) == 2
    assert "there are no .lesson files in empty" in capsys.readouterr().err


def test_what_cannot_be_done_is_another_code_than_faults(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["handout", "none.lesson", "-o", "out"]) == 2
    assert (
        main(["handout", "tuesday-group", "-o", "out", "--parts", "road", "--sheet", "wall-card"])
        == 2
    )
    assert "--parts are of the handout, not of the wall-card" in capsys.readouterr().err


@pytest.mark.parametrize("folder", ["", "a-file"])
def test_the_output_is_a_folder(
    here: Path, capsys: pytest.CaptureFixture[str], folder: str
) -> None:
    Path("a-file").write_text("mine")
    assert main(["handout", "tuesday-group", "-o", folder]) == 2
    assert "is not a folder" in capsys.readouterr().err
    assert Path("a-file").read_text() == "mine"


def test_without_the_extra_no_work_is_begun(
    here: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "weasyprint", None)
    assert main(["handout", "tuesday-group", "-o", "out", "--pdf"]) == 2
    assert capsys.readouterr().err.count("pip install 'fretloom[paper]'") == 1
    assert not Path("out").exists()


def test_two_lessons_of_one_name_are_told_apart_or_refused(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    Path("other").mkdir()
    Path("other", "kettle.lesson").write_text(LESSON)
    assert main(["handout", "tuesday-group/kettle.lesson", "other/kettle.lesson", "-o", "out"]) == 2
    assert (
        "tuesday-group/kettle.lesson and other/kettle.lesson would have pages of one name"
        in capsys.readouterr().err
    )
    assert main(["handout", "tuesday-group", "other", "-o", "out", "--sheet", "handout"]) == 0
    assert sorted(str(one.relative_to("out")) for one in Path("out").rglob("*.html")) == [
        "index.html", "other/kettle.handout.html", "tuesday-group/kettle.handout.html",
    ]  # fmt: skip


def test_an_index_of_ones_own_is_seen_before_any_work(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    Path("out").mkdir()
    Path("out", "index.html").write_text("my own")
    assert main(["handout", "tuesday-group", "-o", "out"]) == 2
    assert [one.name for one in Path("out").iterdir()] == ["index.html"]


def test_an_index_keeps_a_lesson_that_has_faults_now(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["handout", "tuesday-group", "-o", "out"]) == 0
    before = Path("out", "index.html").read_text(encoding="utf-8")
    Path("tuesday-group", "kettle.lesson").write_text(LESSON.replace("C | G", "C | H9"))
    assert main(["handout", "tuesday-group", "-o", "out"]) == 1
    assert Path("out", "index.html").read_text(encoding="utf-8") == before
    assert "index.html was left as it is" in capsys.readouterr().err


def test_pages_that_no_lesson_makes_any_more_are_named(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    Path("tuesday-group", "old.lesson").write_text(LESSON)
    assert main(["handout", "tuesday-group", "-o", "out", "--sheet", "handout"]) == 0
    Path("tuesday-group", "old.lesson").unlink()
    capsys.readouterr()
    assert main(["handout", "tuesday-group", "-o", "out", "--sheet", "handout"]) == 0
    assert "out/old.handout.html is of no lesson here any more" in capsys.readouterr().err
    assert Path("out", "old.handout.html").exists()


def test_a_closed_error_stream_is_no_fault(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for number in range(4):
        Path("tuesday-group", f"{number}.lesson").write_text(LESSON)
    monkeypatch.setattr(sys, "stderr", None)
    assert (
        main(["handout", "tuesday-group", "-o", "out", "--jobs", "1", "--sheet", "wall-card"]) == 0
    )
