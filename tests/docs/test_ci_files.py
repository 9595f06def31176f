"""The files that a collection takes for its own checks do what the page says of them, as the systems would run them."""

from __future__ import annotations

import json
import os
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
import yaml

from fretloom.frontends.command.main import main

TOP = Path(__file__).parents[2]
PAGE = (TOP / "docs/howto/check-in-ci.md").read_text()
HOOKS: list[dict[str, Any]] = yaml.safe_load((TOP / ".pre-commit-hooks.yaml").read_text())
ACTION: dict[str, Any] = yaml.safe_load((TOP / "docs/ci/action.yml").read_text())
JOB: dict[str, Any] = yaml.safe_load((TOP / "docs/ci/gitlab-ci.yml").read_text())["lessons"]
GOOD = 'lesson "Two Cups"\n  meter 4/4\n\nvoicings\n  C  x32010\n\npatterns\n  plain  p , i , m , a\n\nsection verse  using plain\n  C\n\nform\n  verse\n'
BAD = GOOD.replace("  C\n\nform", "  D\n\nform")


@pytest.fixture
def lessons(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "lessons").mkdir()
    (tmp_path / "lessons/good one.lesson").write_text(GOOD)
    (tmp_path / "lessons/bad.lesson").write_text(BAD)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def _run(script: str, **names: str) -> subprocess.CompletedProcess[str]:
    """Run a script as the systems do: bash that stops at the first failure, with the command on the path."""
    place = f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}"
    return subprocess.run(
        ["bash", "--noprofile", "--norc", "-eo", "pipefail", "-c", script],
        env={**os.environ, "PATH": place, **names},
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.mark.usefixtures("lessons")
@pytest.mark.parametrize("hook", HOOKS, ids=lambda hook: hook["id"])
def test_each_hook_is_a_command_that_there_is(hook: dict[str, Any]) -> None:
    """It fails for the bad file and passes for the good one, without asking for what a hook has not got."""
    command, *words = shlex.split(hook["entry"])
    assert command == "fretloom"
    if "--changed" in words:
        subprocess.run(["git", "init", "-q"], check=True)
        assert not hook["pass_filenames"]
        assert main([*words, *hook["args"]]) == 1
        Path("lessons/bad.lesson").write_text(GOOD)
        assert main([*words, *hook["args"]]) == 0
    else:
        files = {name: main([*words, f"lessons/{name}.lesson"]) for name in ("good one", "bad")}
        assert files == {"good one": 0, "bad": 1 if "check" in words else 0}


def test_hooks_ask_for_lessons_and_for_what_settles_them() -> None:
    names = [
        "tunes/a.lesson",
        "fretloom.toml",
        "sub/fretloom.toml",
        "pyproject.toml",
        "a.lesson.bak",
    ]
    chosen = {
        hook["id"]: [name for name in names if re.search(hook["files"], name)] for hook in HOOKS
    }
    assert chosen == {
        "fretloom-check": names[:1],
        "fretloom-check-dependents": names[:4],
        "fretloom-format": names[:1],
    }


def test_each_hook_and_each_input_is_on_the_page() -> None:
    for name in [*(hook["id"] for hook in HOOKS), *ACTION["inputs"]]:
        assert f"`{name}`" in PAGE


@pytest.mark.process
@pytest.mark.skipif(shutil.which("bash") is None, reason="the action runs in bash")
def test_the_action_checks_and_writes_what_is_asked_for(lessons: Path) -> None:
    step = ACTION["runs"]["steps"][-1]
    given = {name.upper(): one["default"] for name, one in ACTION["inputs"].items()}
    assert set(step["env"]) == set(given)
    asked = {
        **given,
        "PATHS": "lessons/good one.lesson\nlessons/bad.lesson\n",
        "SARIF": "found.sarif",
    }
    done = _run(step["run"], **asked)
    assert done.returncode == 1
    assert re.search(r"^::error file=lessons/bad.lesson,line=11,", done.stdout, re.M)
    assert "good one" not in done.stdout
    [run] = json.loads(Path("found.sarif").read_text())["runs"]
    assert [one["ruleId"] for one in run["results"]] == ["unknown-voicing"]
    (lessons / "lessons/bad.lesson").write_text(GOOD.replace("  meter", "    meter"))
    assert _run(step["run"], **asked).returncode == 0
    assert _run(step["run"], **{**asked, "FORMATTED": "true"}).returncode == 1


@pytest.mark.process
@pytest.mark.skipif(shutil.which("bash") is None, reason="the job runs in bash")
@pytest.mark.usefixtures("lessons")
def test_the_job_writes_its_reports_and_fails_for_an_error() -> None:
    done = _run("\n".join(JOB["script"]), LESSONS=JOB["variables"]["LESSONS"])
    assert done.returncode == 1
    reports = JOB["artifacts"]["reports"]
    assert [one["check_name"] for one in json.loads(Path(reports["codequality"]).read_text())] == [
        "unknown-voicing"
    ]
    suites = ElementTree.parse(reports["junit"]).getroot()
    assert len(suites.findall(".//testcase")) == 2
    assert len(suites.findall(".//failure")) == 1
