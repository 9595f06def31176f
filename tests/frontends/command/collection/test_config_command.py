"""`fretloom config` says what holds, and on which line it was settled."""

from __future__ import annotations

from pathlib import Path

import pytest

from fretloom.frontends.command.main import main

Captured = pytest.CaptureFixture[str]


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "tunes").mkdir()
    (tmp_path / "tunes" / "a.lesson").write_text("")
    return tmp_path


def test_it_shows_what_is_set_and_where(here: Path, capsys: Captured) -> None:
    (here / "fretloom.toml").write_text('leave-out = ["tunes/a*"]\n[rules]\nwaivers = "error"\nunknown-rule = "on"\nreach = "off"\n')  # fmt: skip
    assert main(["config", "tunes/a.lesson"]) == 0
    assert (
        capsys.readouterr().out
        == f"""\
settled in {here}/fretloom.toml
root: {here}, the folder of that file
left out:
  tunes/a*  line 1
rules:
  reach                  off    line 5
  unknown-rule           on     line 4
  waiver-without-reason  error  line 3, with all of waivers
  waiver-not-needed      error  line 3, with all of waivers
  cannot-be-waived       error  line 3, with all of waivers
tunes/a.lesson is left out, by tunes/a*
"""
    )


def test_it_shows_the_house_style(here: Path, capsys: Captured) -> None:
    (here / "fretloom.toml").write_text('[house-style]\nheading = ["by", "tempo"]\nsteps = true\n\nfingers = false\n')  # fmt: skip
    assert main(["config"]) == 0
    assert capsys.readouterr().out.split("root:")[1].split("\n")[1:-1] == [
        "house style:",
        "  heading  by and tempo   line 2",
        "  steps    asked for      line 3",
        "  fingers  not asked for  line 5",
    ]


def test_without_one_all_is_as_it_comes(here: Path, capsys: Captured) -> None:
    assert main(["config"]) == 0
    assert (
        capsys.readouterr().out
        == f"""\
no fretloom.toml or pyproject.toml settles anything here, so all is as it comes
root: {here}
"""
    )


@pytest.mark.usefixtures("here")
@pytest.mark.parametrize("path", ["gone", "tunes/b.lesson", "x" * 5000])
def test_it_needs_something_that_is_there(path: str, capsys: Captured) -> None:
    assert main(["config", path]) == 2
    assert capsys.readouterr().err.startswith("fretloom: there is no file or folder ")
