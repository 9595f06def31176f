"""A baseline knows what was there before, and only that."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from fretloom.collection.checking import Task, check_one
from fretloom.collection.choosing.baseline import Baseline, read_baseline, write_baseline
from fretloom.collection.results import Checked
from fretloom.errors import FretloomError

LESSON = """lesson "Tea"

voicings
  C  x32010
  G  320003
  F  133211

section tune
  C { p , p , p , p }
"""


def _checked(folder: Path, text: str = LESSON, name: str = "tunes/tea.lesson") -> Checked:
    file = folder / name
    file.parent.mkdir(exist_ok=True)
    file.write_text(text)
    return check_one(Task(str(file), str(folder)))


@pytest.fixture
def known(tmp_path: Path) -> Path:
    """A baseline of the lesson."""
    file = tmp_path / "known.json"
    checked = _checked(tmp_path)
    assert len(checked.findings) == 2
    write_baseline(file, checked.findings)
    return file


def _new(known: Path, text: str) -> list[str]:
    return [one.span.text for one in read_baseline(known).without_known(_checked(known.parent, text)).findings]  # fmt: skip


@pytest.mark.parametrize(
    "text",
    [
        LESSON,
        "# a comment\n\n" + LESSON,
        LESSON.replace("  G  320003", "  # theirs\n\n  G      320003  "),
        LESSON.replace("  F  133211\n", ""),
    ],
)
def test_what_was_there_stays_known(known: Path, text: str) -> None:
    """With lines above it, with other white space, with others gone."""
    assert _new(known, text) == []


def test_what_is_new_is_not(known: Path) -> None:
    """A finding of the same rule in another line, or more of the same line than there were."""
    assert _new(known, LESSON.replace("  F  133211\n", "  F  133211\n  D  xx0232\n")) == ["D"]
    assert _new(known, LESSON.replace("G  320003", "G  320033")) == ["G"]


def test_another_file_is_another_finding(known: Path) -> None:
    checked = _checked(known.parent, name="tunes/other.lesson")
    assert len(read_baseline(known).without_known(checked).findings) == 2


def test_it_names_files_from_its_own_folder(known: Path) -> None:
    """So that it holds on every machine, and in a stable order."""
    content = json.loads(known.read_text())
    assert content == {
        "format": "fretloom-baseline",
        "version": 1,
        "findings": [
            {"file": "tunes/tea.lesson", "rule": "unused-voicing", "line": line, "count": 1}
            for line in ("F 133211", "G 320003")
        ],
    }


def test_what_was_mended_is_counted_in_the_files_that_were_checked(known: Path) -> None:
    baseline = read_baseline(known)
    checked = _checked(known.parent, LESSON.replace("  F  133211\n", ""))
    baseline.without_known(checked)
    assert baseline.mended([checked.name]) == 1
    assert baseline.mended([str(known.parent / "tunes" / "other.lesson")]) == 0


@pytest.mark.parametrize(
    "text",
    ["", "{}", "[]", "1", "nonsense", '{"format": "fretloom-baseline", "version": 2, "findings": []}',
     '{"format": "fretloom-baseline", "version": 1, "findings": [{"file": "x"}]}',
     '{"format": "fretloom-baseline", "version": 1, "findings": 3}', "[" * 100_000],
)  # fmt: skip
def test_what_is_no_baseline_is_refused(tmp_path: Path, text: str) -> None:
    (tmp_path / "x.json").write_text(text)
    with pytest.raises(FretloomError, match="is not a baseline: remove it, and make it anew with --write-baseline"):  # fmt: skip
        read_baseline(tmp_path / "x.json")


def test_one_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(FretloomError, match=r"there is no baseline .*: make one with"):
        read_baseline(tmp_path / "x.json")
    with pytest.raises(FretloomError, match="cannot be read"):
        read_baseline(tmp_path)


def test_an_empty_one_knows_nothing(tmp_path: Path) -> None:
    assert Baseline(tmp_path / "x").without_known(_checked(tmp_path)) == _checked(tmp_path)


def test_a_fault_in_one_more_place_is_new(known: Path) -> None:
    """Though it is one finding, named at the first place; fewer places are no news."""
    text = LESSON.replace("  C {", "  D { p , p , p , p }\n  D | D\n  C {")
    several = _checked(known.parent, text)
    known.unlink()
    write_baseline(known, several.findings)
    assert _new(known, text) == []
    assert _new(known, text.replace("  D | D\n", "")) == []
    assert set(_new(known, text.replace("  D | D\n", "  D | D\n  D | C\n"))) == {"D"}


@pytest.mark.parametrize("text", [LESSON, "[rules]\n", '{"version": "2.1.0"}', ""])
def test_nothing_else_is_written_over(tmp_path: Path, text: str) -> None:
    """A lesson, a configuration, a report; a baseline is."""
    file = tmp_path / "there"
    file.write_text(text)
    with pytest.raises(FretloomError, match="there is not a baseline, and none is written over it"):
        write_baseline(file, ())
    assert file.read_text() == text
    file.unlink()
    write_baseline(file, ())
    write_baseline(file, _checked(tmp_path).findings)
    assert len(read_baseline(file).left) == 2
