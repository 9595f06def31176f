"""What git says has changed, and the lessons that need it."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

from fretloom.collection.choosing.chosen import chosen_lessons
from fretloom.errors import FretloomError

pytestmark = pytest.mark.skipif(shutil.which("git") is None, reason="git is not installed")

FILES = {
    "shared/open.lesson": "voicings\n  C  x32010\n",
    "shared/all.lesson": 'use "open.lesson"\n',
    "tunes/a.lesson": 'use "../shared/all.lesson"\n\nlesson "A"\n',
    "tunes/b.lesson": 'lesson "B"\n  based on "a.lesson"\n',
    "tunes/c.lesson": 'lesson "C"\n',
    "tunes/é d.lesson": 'lesson "D"\n',
}


def _git(folder: Path, *words: str) -> None:
    names = ("-c", "user.name=Kiln Lane", "-c", "user.email=group@example.org")
    subprocess.run(["git", *names, *words], cwd=folder, check=True, capture_output=True)


@pytest.fixture
def repository(tmp_path: Path) -> Path:
    for name, text in FILES.items():
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(text)
    _git(tmp_path, "init", "-q", "-b", "main")
    _git(tmp_path, "add", ".")
    _git(tmp_path, "commit", "-q", "-m", "Lessons")
    return tmp_path


def _chosen(repository: Path, revision: str = "HEAD") -> list[str]:
    chosen = chosen_lessons([str(repository)], None, revision=revision)
    return [str(Path(one.name).relative_to(repository)) for one in chosen.tasks]


def test_nothing_changed_is_nothing_to_check(repository: Path) -> None:
    assert _chosen(repository) == []
    assert _chosen(repository, "main") == []


@pytest.mark.parametrize(
    ("changed", "chosen"),
    [
        ("tunes/c.lesson", ["tunes/c.lesson"]),
        ("tunes/é d.lesson", ["tunes/é d.lesson"]),
        ("tunes/a.lesson", ["tunes/a.lesson", "tunes/b.lesson"]),
        ("shared/open.lesson", ["shared/all.lesson", "shared/open.lesson", "tunes/a.lesson", "tunes/b.lesson"]),
        ("tunes/new.lesson", ["tunes/new.lesson"]),
        ("notes.txt", []),
    ],
)  # fmt: skip
def test_what_needs_a_changed_file_is_checked(repository: Path, changed: str, chosen: list[str]) -> None:  # fmt: skip
    """However far away; a file that git does not know yet has changed too."""
    with (repository / changed).open("a") as file:
        file.write("# more\n")
    assert _chosen(repository) == chosen


def test_what_needs_a_file_that_is_gone_is_checked(repository: Path) -> None:
    shutil.rmtree(repository / "shared")
    assert _chosen(repository) == ["tunes/a.lesson", "tunes/b.lesson"]


def test_what_was_committed_since_has_changed(repository: Path) -> None:
    with (repository / "tunes" / "c.lesson").open("a") as file:
        file.write("# more\n")
    _git(repository, "commit", "-qam", "More")
    assert _chosen(repository) == []
    assert _chosen(repository, "HEAD~1") == ["tunes/c.lesson"]


def test_another_configuration_changes_all(repository: Path) -> None:
    (repository / "fretloom.toml").write_text("")
    assert len(_chosen(repository)) == len(FILES)
    _git(repository, "add", ".")
    _git(repository, "commit", "-qm", "Settled")
    assert _chosen(repository) == []
    (repository / "fretloom.toml").unlink()
    assert len(_chosen(repository)) == len(FILES)


@pytest.mark.parametrize("revision", ["nonsense", "", "--output=x", "HEAD~9", "HEAD:tunes"])
def test_a_revision_that_is_none_is_refused(repository: Path, revision: str) -> None:
    with pytest.raises(FretloomError, match="--changed: "):
        _chosen(repository, revision)
    assert not (repository / "x").exists()


def test_outside_a_repository_it_is_said(tmp_path: Path) -> None:
    (tmp_path / "a.lesson").write_text("")
    with pytest.raises(FretloomError, match="is in no git repository"):
        _chosen(tmp_path)


def test_without_git_it_is_said(repository: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", "")
    with pytest.raises(FretloomError, match="asks git what has changed, and git is not installed"):
        _chosen(repository)


def test_the_repository_of_a_hook_leads_nowhere_else(repository: Path, monkeypatch: pytest.MonkeyPatch) -> None:  # fmt: skip
    """Git sets these variables for hooks."""
    monkeypatch.setenv("GIT_DIR", "/nowhere")
    monkeypatch.setenv("GIT_INDEX_FILE", "/nowhere/index")
    assert _chosen(repository) == []


def test_before_the_first_commit_all_is_new(tmp_path: Path) -> None:
    """As in the hook of a first commit, where some files are added and some are not."""
    _git(tmp_path, "init", "-q", "-b", "main")
    for name in ("added", "left"):
        (tmp_path / f"{name}.lesson").write_text('lesson "A"\n')
    _git(tmp_path, "add", "added.lesson")
    assert _chosen(tmp_path) == ["added.lesson", "left.lesson"]
    with pytest.raises(FretloomError, match="git knows no revision main"):
        _chosen(tmp_path, "main")
