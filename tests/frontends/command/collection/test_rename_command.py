"""`fretloom rename` changes a name in all files or says why not."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

from fretloom.frontends.command.main import main

Captured = pytest.CaptureFixture[str]
OPEN = (
    "voicings\n  E  022100  bass 6 4\n  A  x02220  bass 5 4\n\npatterns\n  plain  p , p , p , p\n"
)
SONG = """\
lesson "E and A"

use "../open.lesson"

section verse  using plain
  E | A
"""


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A collection of three lessons, with its root in a subfolder of the folder one is in."""
    root = tmp_path / "lane"
    (root / "songs").mkdir(parents=True)
    (root / "fretloom.toml").touch()
    (root / "open.lesson").write_text(OPEN)
    for name in ("a", "b"):
        (root / "songs" / f"{name}.lesson").write_text(SONG)
    monkeypatch.chdir(tmp_path)
    return root


def test_all_files_that_mean_the_name_are_written_and_named(here: Path, capsys: Captured) -> None:
    """From whichever of them one starts."""
    assert main(["rename", "lane/songs/a.lesson", "E", "E.low"]) == 0
    assert capsys.readouterr() == (
        "lane/open.lesson: 1 place\nlane/songs/a.lesson: 1 place\nlane/songs/b.lesson: 1 place\n",
        "",
    )
    assert (here / "songs" / "b.lesson").read_text() == SONG.replace("  E |", "  E.low |")
    assert main(["check", "--strict", "lane", "--no-cache"]) == 0


@pytest.mark.process
def test_the_differences_are_as_other_programs_take_them(here: Path, capsys: Captured) -> None:
    """git, which is independent of us, makes of them what the command would write; line ends are as in the files."""
    (here / "songs" / "a.lesson").write_bytes(SONG.rstrip("\n").replace("\n", "\r\n").encode())
    if not shutil.which("git"):
        pytest.skip("git is not installed")
    before = {one: one.read_bytes() for one in here.rglob("*.lesson")}
    assert main(["rename", "lane/open.lesson", "E", "E.low", "--dry-run"]) == 0
    shown = capsys.readouterr().out
    assert {one: one.read_bytes() for one in here.rglob("*.lesson")} == before
    (here.parent / "change.diff").write_bytes(shown.encode())
    subprocess.run(["git", "init", "-q"], cwd=here.parent, check=True)
    subprocess.run(["git", "apply", "change.diff"], cwd=here.parent, check=True)
    applied = {one: one.read_bytes() for one in before}
    for path, content in before.items():
        path.write_bytes(content)
    assert main(["rename", "lane/open.lesson", "E", "E.low"]) == 0
    assert {one: one.read_bytes() for one in before} == applied != before


@pytest.mark.usefixtures("here")
@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (["E", "A"], 2, "fretloom: A is a name of a voicing already: lane/open.lesson, line 3; choose another"),
        (["F", "A"], 2, "fretloom: there is no voicing, pattern or section F in lane/songs/a.lesson, nor in what it names"),
        (["E", "Em"], 1, "lane/open.lesson:2:7: error: Em: string 3, fret 1 is G#, not in Em"),
        (["verse", "rest", "--kind", "pattern"], 2, "fretloom: there is no pattern verse in lane/songs/a.lesson"),
        (["E", "E\x1b[31m"], 2, "fretloom: a voicing cannot be called E"),
    ],
)  # fmt: skip
def test_a_refusal_is_a_sentence(words: list[str], code: int, said: str, capsys: Captured) -> None:
    """On standard error, and nothing is written."""
    assert main(["rename", "lane/songs/a.lesson", *words]) == code
    shown = capsys.readouterr()
    assert shown.out == ""
    assert shown.err.startswith(said)
    assert "\x1b" not in shown.err


def test_a_finding_that_is_gone_is_listed(here: Path, capsys: Captured) -> None:
    """And one that is new only comes by wish."""
    assert main(["rename", "lane/open.lesson", "E", "Em", "--despite-findings"]) == 0
    capsys.readouterr()
    assert main(["rename", "lane/open.lesson", "Em", "E"]) == 0
    assert capsys.readouterr().err.startswith(
        "fretloom: a finding is gone: Em: string 3, fret 1 is G#"
    )
    assert (here / "open.lesson").read_text() == OPEN


def test_one_file_that_cannot_be_written_keeps_all(here: Path, capsys: Captured) -> None:
    """It is named."""
    (here / "songs" / "b.lesson").chmod(0o444)
    assert main(["rename", "lane/songs/a.lesson", "E", "E.low"]) == 2
    assert "b.lesson is write-protected and stays as it is" in capsys.readouterr().err
    assert (here / "open.lesson").read_text() == OPEN
    assert (here / "songs" / "a.lesson").read_text() == SONG
