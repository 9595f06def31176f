"""The commands that the how-tos show do what they say, with the examples of the project."""

from __future__ import annotations

import re
import shlex
import shutil
from pathlib import Path

import pytest
from places import EXAMPLES, PROJECT

from fretloom.frontends.command.main import main

HOWTO = PROJECT / "docs" / "howto"
COMMANDS = [
    line
    for page in sorted(HOWTO.glob("*.md"))
    for block in re.findall(r"^ *```.*?^ *```", page.read_text(encoding="utf-8"), re.M | re.S)
    for line in re.findall(r"^ *(?:- run: )?(fretloom .*)$", block, re.M)
    if line != "fretloom language-server"  # It waits for an editor.
]


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The examples, with the lesson of the tutorial and a folder of lessons."""
    shutil.copytree(EXAMPLES, tmp_path, dirs_exist_ok=True)
    shutil.copytree(EXAMPLES, tmp_path / "lessons")
    shutil.copy(EXAMPLES / "clay-and-water.lesson", tmp_path / "first.lesson")
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize("command", COMMANDS)
def test_a_command_of_the_how_tos_runs(command: str, folder: Path) -> None:
    """Without a fault, and with the file that it is to write."""
    _, *words = shlex.split(command)
    assert main(words) == 0
    written = [folder / words[words.index("-o") + 1]] if "-o" in words else []
    assert all(one.stat().st_size > 300 for one in written)


def test_the_how_tos_show_commands() -> None:
    """They are found: of checking, formatting, exporting, transposing, easing and renaming."""
    assert {command.split()[1] for command in COMMANDS} == {
        "check",
        "format",
        "export",
        "transpose",
        "ease",
        "rename",
    }
