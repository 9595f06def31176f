"""A repository of 500 lessons, as its maintainer meets it: a baseline, a cache, a change, a broken shared file."""

from __future__ import annotations

import json
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from fretloom.collection import checking
from fretloom.collection.checking import Task, check_one
from fretloom.collection.results import Checked
from fretloom.frontends.command.main import main

SHARED = "voicings\n  C  x32010\n  G  320003\n"
LESSON = """use "../shared/open.lesson"

lesson "Evening {number}"

patterns
  walk  p , p m , p i , p m

section tune  using walk
  C | G
"""
#: Every tenth lesson has a pattern that nothing needs.
SPARE = LESSON.replace("\nsection", "  spare  p , p , p , p\n\nsection")
LESSONS = 500

Captured = pytest.CaptureFixture[str]
Checks = list[str]


@pytest.fixture
def group(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Ten evenings a folder; all of them use one file."""
    (tmp_path / "shared").mkdir()
    (tmp_path / "shared" / "open.lesson").write_text(SHARED)
    for number in range(LESSONS):
        file = _file(tmp_path, number)
        file.parent.mkdir(exist_ok=True)
        text = SPARE if number % 10 == 0 else LESSON
        file.write_text(text.replace("{number}", str(number)))
    (tmp_path / "fretloom.toml").write_text('[rules]\nhands = "off"\n')
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / ".cache"))
    return tmp_path


@pytest.fixture
def checks(monkeypatch: pytest.MonkeyPatch) -> Checks:
    """The files that are really checked."""
    asked: Checks = []

    def check(task: Task) -> Checked:
        asked.append(task.name)
        return check_one(task)

    monkeypatch.setattr(checking, "check_one", check)
    return asked


def _file(group: Path, number: int) -> Path:
    return group / f"week-{number // 10:02}" / f"evening-{number:03}.lesson"


def _git(group: Path, *words: str) -> None:
    names = ("-c", "user.name=Kiln Lane", "-c", "user.email=group@example.org")
    subprocess.run(["git", *names, *words], cwd=group, check=True, capture_output=True)


def _run(capsys: Captured, checks: Checks) -> Callable[..., tuple[int, list[dict[str, object]], int]]:  # fmt: skip
    """Return what runs a check: its exit code, its findings, and how many files were really checked."""

    def run(*words: str) -> tuple[int, list[dict[str, object]], int]:
        checks.clear()
        code = main(["check", ".", "--jobs", "1", "--format", "json", *words])
        return code, json.loads(capsys.readouterr().out)["findings"], len(checks)

    return run


@pytest.mark.skipif(shutil.which("git") is None, reason="git is not installed")
def test_five_hundred_lessons(group: Path, checks: Checks, capsys: Captured) -> None:
    """Each step is what a maintainer does next."""
    run = _run(capsys, checks)
    _git(group, "init", "-q", "-b", "main")
    (group / ".gitignore").write_text(".cache\n")
    # The first check finds what was never looked at, and takes note of it.
    code, found, checked = run()
    assert (code, len(found), checked) == (0, 50, LESSONS + 1)
    assert {one["rule"] for one in found} == {"unused-pattern"}
    assert main(["check", ".", "--baseline", "known.json", "--write-baseline"]) == 0
    capsys.readouterr()
    _git(group, "add", ".")
    _git(group, "commit", "-qm", "Evenings")
    # From then on only what is new counts, and unchanged lessons are not checked.
    known = ("--strict", "--baseline", "known.json")
    assert run(*known) == (0, [], 0)
    assert run(*known, "--changed", "HEAD") == (0, [], 0)
    # A lesson gets lines above an old finding, and a new fault.
    changed = _file(group, 120)
    changed.write_text("# by the evening group\n\n" + changed.read_text().replace("C | G", "C | D"))
    for more in ((), ("--changed", "HEAD")):
        code, found, checked = run(*known, *more)
        assert (code, checked) == (1, 1)
        assert [(one["file"], one["rule"]) for one in found] == [("week-12/evening-120.lesson", "unknown-voicing")]  # fmt: skip
    # The file that all use is broken: that is told once, in that file; each lesson shows what it lacks of it.
    shared = group / "shared" / "open.lesson"
    shared.write_text(SHARED.replace("x32010", "x3201)"))
    code, found, checked = run(*known)
    assert (code, checked) == (1, LESSONS + 1)
    told = [(one["file"], one["rule"]) for one in found]
    assert told == [
        ("shared/open.lesson", "bad-frets"),
        ("week-12/evening-120.lesson", "unknown-voicing"),
    ]
    assert main(["check", "week-12", *known]) == 1
    assert capsys.readouterr().out.count("[linked-file-faulty]") == 10
    assert run(*known, "--changed", "HEAD") == (code, found, 0)
    # It is mended again: nothing is left but the one new fault.
    shared.write_text(SHARED)
    code, found, _ = run(*known)
    assert (code, [one["rule"] for one in found]) == (1, ["unknown-voicing"])
    # The results are deleted: all is checked again, to the same end.
    shutil.rmtree(group / ".cache")
    assert run(*known) == (code, found, LESSONS + 1)
    # The rule of the baseline is switched off for all: nothing has to be checked again for that.
    (group / "fretloom.toml").write_text('[rules]\nhands = "off"\nunused-pattern = "off"\n')
    assert run("--strict", "--ignore", "unknown-voicing") == (0, [], 0)
