"""The nearest configuration above a lesson holds, wherever one stands."""

from __future__ import annotations

from pathlib import Path

import pytest

from fretloom.collection.configuration.finding import configuration_of
from fretloom.collection.lessons import default_root, found_lessons
from fretloom.errors import FretloomError
from fretloom.frontends.command.main import main

SHARED = "voicings\n  C  x32010\n"
USES = 'use "../shared.lesson"\n\nlesson "Tea"\n\nsection tune\n  C { p , p , p , p }\n'


@pytest.fixture
def group(tmp_path: Path) -> Path:
    """A collection with a folder in it that has a configuration of its own."""
    for name in ("tunes/a.lesson", "own/b.lesson", "tunes/deep/c.lesson"):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(USES)
    (tmp_path / "shared.lesson").write_text(SHARED)
    (tmp_path / "fretloom.toml").write_text('[rules]\nhands = "off"\n')
    (tmp_path / "own" / "fretloom.toml").write_text("")
    (tmp_path / "tunes" / "pyproject.toml").write_text("[project]\n")
    return tmp_path


def test_the_nearest_one_holds(group: Path) -> None:
    """An empty one too; one for other programs is passed over."""
    assert configuration_of(group / "tunes" / "deep" / "c.lesson").file == group / "fretloom.toml"
    assert configuration_of(group / "own").file == group / "own" / "fretloom.toml"
    assert default_root(group / "own" / "b.lesson", None) == group / "own"


@pytest.mark.parametrize("stand", [".", "tunes", "tunes/deep", ".."])
def test_a_lesson_passes_or_fails_wherever_one_stands(group: Path, monkeypatch: pytest.MonkeyPatch, stand: str) -> None:  # fmt: skip
    """Its root is the folder of the configuration: `..` leads out of the folder `own`, not of the collection."""
    monkeypatch.chdir(group / stand)
    assert main(["check", str(group / "tunes" / "a.lesson")]) == 0
    assert main(["check", str(group / "own" / "b.lesson")]) == 1


def test_a_link_goes_by_the_place_it_leads_to(group: Path, tmp_path_factory: pytest.TempPathFactory) -> None:  # fmt: skip
    link = tmp_path_factory.mktemp("elsewhere") / "a.lesson"
    link.symlink_to(group / "tunes" / "a.lesson")
    assert configuration_of(link).file == group / "fretloom.toml"


def test_two_in_one_folder_are_refused(group: Path) -> None:
    """Nobody could say which of them holds."""
    (group / "pyproject.toml").write_text("[tool.fretloom]\n")
    with pytest.raises(FretloomError, match="both settle what is checked: keep one of them"):
        configuration_of(group / "tunes")


def test_files_are_left_out_however_they_are_named(group: Path, capsys: pytest.CaptureFixture[str]) -> None:  # fmt: skip
    """In a folder without a word; a file that was named itself is told of."""
    (group / "fretloom.toml").write_text('leave-out = ["tunes"]\n')
    left = [one.file.name for one in found_lessons([str(group)], None) if one.left_out]
    assert left == ["c.lesson", "a.lesson"] or left == ["a.lesson", "c.lesson"]
    assert main(["check", str(group / "tunes" / "a.lesson")]) == 0
    out, err = capsys.readouterr()
    assert out == "no errors in 0 files\n"
    assert err == f"fretloom: {group / 'tunes' / 'a.lesson'} is left out, by {group / 'fretloom.toml'}:1\n"  # fmt: skip
    before = (group / "tunes" / "a.lesson").read_text()
    main(["format", str(group)])
    assert (group / "tunes" / "a.lesson").read_text() == before


def test_a_faulty_one_stops_the_check(group: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (group / "fretloom.toml").write_text("rulez = 1\n")
    assert main(["check", str(group)]) == 2
    assert "fretloom.toml:1: there is no setting rulez; did you mean rules?" in capsys.readouterr().err  # fmt: skip
