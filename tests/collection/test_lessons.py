"""Which lessons there are in what somebody names, and where their collection begins."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from fretloom.collection.lessons import default_root, lessons_in
from fretloom.errors import FretloomError


@pytest.fixture
def group(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of lessons, with more in a folder inside it and in a hidden one."""
    for name in ("b.lesson", "a.lesson", "notes.txt", "tunes/c.lesson", ".old/d.lesson"):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text("")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_a_folder_holds_its_lessons_in_order_but_for_hidden_ones(group: Path) -> None:
    """Files before folders, each by name; the folder one is in is the root of the collection."""
    found = list(lessons_in(["."], None))
    assert [str(file) for file, _ in found] == ["a.lesson", "b.lesson", "tunes/c.lesson"]
    assert {root for _, root in found} == {group}


@pytest.mark.usefixtures("group")
def test_a_lesson_named_twice_comes_once() -> None:
    """A file named by itself and found in a folder is one lesson, with the root it had first."""
    found = list(lessons_in(["tunes/c.lesson", "tunes"], None))
    assert [str(file) for file, _ in found] == ["tunes/c.lesson"]


def test_links_out_of_the_folder_are_passed_over(group: Path, tmp_path_factory: pytest.TempPathFactory) -> None:  # fmt: skip
    """What lies elsewhere is not part of the collection."""
    elsewhere = tmp_path_factory.mktemp("elsewhere") / "e.lesson"
    elsewhere.write_text("")
    (group / "tunes" / "e.lesson").symlink_to(elsewhere)
    assert [str(file) for file, _ in lessons_in(["tunes"], None)] == ["tunes/c.lesson"]


def test_the_root_of_a_file_is_the_working_folder_if_it_lies_in_it(group: Path) -> None:
    """Else it is the file's own folder, unless a root is named."""
    assert default_root("tunes/c.lesson", None) == group
    assert default_root(group.parent / "other" / "f.lesson", None) == group.parent / "other"
    assert default_root("tunes/c.lesson", "tunes") == Path("tunes")


@pytest.mark.parametrize("inside", [True, False])
def test_a_file_has_the_same_root_however_it_is_named(inside: bool, group: Path, monkeypatch: pytest.MonkeyPatch) -> None:  # fmt: skip
    """By itself, by its folder, by a folder above it; from where it lies below and from elsewhere."""
    (group / "elsewhere").mkdir()
    monkeypatch.chdir(group if inside else group / "elsewhere")
    above = Path() if inside else group
    for named in ("tunes/c.lesson", "tunes", "."):
        roots = {file.name: root for file, root in lessons_in([str(above / named)], None)}
        assert roots["c.lesson"] == (group if inside else group / "tunes")


@pytest.mark.parametrize(
    ("root", "said"),
    [
        ("nope", "--root: there is no folder nope"),
        ("", "--root is empty"),
        ("a.lesson", "--root: a.lesson is not a folder"),
        ("a.lesson/x", "--root: there is no folder a.lesson/x"),
        ("no\0pe", "--root: there is no folder no␀pe"),
        ("x" * 5000, "--root: there is no folder"),
        ("loop", "--root: there is no folder loop"),
    ],
)
def test_a_root_is_a_folder(root: str, said: str, group: Path) -> None:
    """Anything else is refused, before any file is looked at."""
    (group / "loop").symlink_to("loop")
    with pytest.raises(FretloomError, match=re.escape(said)):
        list(lessons_in(["."], root))
    with pytest.raises(FretloomError, match=re.escape(said)):
        default_root("a.lesson", root)
