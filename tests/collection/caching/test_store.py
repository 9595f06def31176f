"""What is kept of a check gives the same as the check itself, or nothing."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from fretloom.api import HouseStyle
from fretloom.collection.caching import store as storing
from fretloom.collection.caching.store import Store, default_folder
from fretloom.collection.checking import Task, check_all, check_one
from fretloom.collection.results import Checked
from fretloom.values import evolve

SHARED = "voicings\n  C  x32010\n  G  320003\n"
LESSON = """use "shared.lesson"

lesson "Tea 🎸"

patterns
  plain  p , p m , p i , p m

voicings
  D  xx0232   # allow unused-voicing: for later

section tune  using plian
  C | C
"""


@pytest.fixture
def task(tmp_path: Path) -> Task:
    (tmp_path / "shared.lesson").write_text(SHARED)
    (tmp_path / "tea.lesson").write_text(LESSON)
    return Task(str(tmp_path / "tea.lesson"), str(tmp_path))


def _opened(task: Task) -> Store:
    return Store(Path(task.root, "kept"), task.root)


def _kept(task: Task) -> Checked:
    store = _opened(task)
    checked = check_one(task)
    store.put(checked, task.root)
    assert store.save() == ""
    return checked


def test_a_result_comes_back_as_it_was(task: Task) -> None:
    """Findings with edits and related places, waivers, texts and fingerprints."""
    before = _kept(task)
    after = _opened(task).get(task.name, task.root)
    assert after == before
    assert after is not None
    assert [one.fingerprint for one in after.findings] == [one.fingerprint for one in before.findings]  # fmt: skip
    assert after.texts == before.texts
    assert before.waived
    assert any(one.edits for one in before.findings)


def test_under_another_house_style_it_is_checked_again(task: Task) -> None:
    """What was found under one is not given for another, nor for none."""
    styles = (None, HouseStyle(steps=True), HouseStyle(steps=True, heading=("by",)))
    store = _opened(task)
    for style in styles:
        assert store.get(task.name, task.root, style) is None
        store.put(check_one(evolve(task, style=style)), task.root, style)
    found = [store.get(task.name, task.root, style) for style in styles]
    assert [
        sum(one.rule == "without-steps" for one in kept.findings) for kept in found if kept
    ] == [0, 1, 1]
    assert store.get(task.name, task.root, HouseStyle(heading=("by",))) is None


@pytest.mark.parametrize("name", ["tea.lesson", "shared.lesson"])
def test_a_changed_text_is_checked_again(task: Task, name: str) -> None:
    """That of the lesson, or of a file that it uses; the same text under a new time is not."""
    _kept(task)
    file = Path(task.root, name)
    text = file.read_text()
    file.write_text(f"{text}# more\n")
    assert _opened(task).get(task.name, task.root) is None
    file.write_text(text)
    assert _opened(task).get(task.name, task.root) is not None


def test_a_link_turned_elsewhere_is_checked_again(task: Task, tmp_path_factory: pytest.TempPathFactory) -> None:  # fmt: skip
    """Although the text is the same: it may lie outside the root now."""
    _kept(task)
    elsewhere = tmp_path_factory.mktemp("elsewhere") / "shared.lesson"
    elsewhere.write_text(SHARED)
    shared = Path(task.root, "shared.lesson")
    shared.unlink()
    shared.symlink_to(elsewhere)
    assert _opened(task).get(task.name, task.root) is None


def test_what_names_a_file_that_is_not_there_is_not_kept(task: Task) -> None:
    """It may come at any time."""
    Path(task.root, "shared.lesson").unlink()
    _kept(task)
    assert _opened(task).get(task.name, task.root) is None


def test_another_root_or_name_is_another_result(task: Task, monkeypatch: pytest.MonkeyPatch) -> None:  # fmt: skip
    _kept(task)
    assert _opened(task).get(task.name, "/") is None
    monkeypatch.chdir(task.root)
    assert _opened(task).get("tea.lesson", task.root) is None


def test_another_version_knows_nothing(task: Task, monkeypatch: pytest.MonkeyPatch) -> None:
    _kept(task)
    monkeypatch.setattr(storing, "VERSION", "99.0")
    assert _opened(task).entries == {}


@pytest.mark.parametrize("data", [b"", b"nonsense", b"[]", b"{}", b"[" * 100_000, b"\xff\x00"])
def test_a_spoiled_file_is_as_none(task: Task, data: bytes) -> None:
    _kept(task)
    _opened(task).file.write_bytes(data)
    assert _opened(task).get(task.name, task.root) is None
    assert _kept(task) == _opened(task).get(task.name, task.root)


def _spoiled(value: Any, depth: int = 0) -> list[Any]:
    """Return a value with each part of it replaced by something else, one at a time."""
    made: list[Any] = [None, 3, "x", [], {}]
    if isinstance(value, list):
        for at, part in enumerate(value):
            made += [[*value[:at], other, *value[at + 1 :]] for other in _spoiled(part, depth + 1)]
    if isinstance(value, dict):
        for key, part in value.items():
            made += [{**value, key: other} for other in _spoiled(part, depth + 1)]
    return made


def test_a_spoiled_entry_never_stops_a_check(task: Task) -> None:
    """Whatever stands in its place."""
    _kept(task)
    store = _opened(task)
    ((key, entry),) = store.entries.items()
    tried = _spoiled(entry)
    assert len(tried) > 150
    for one in tried:
        store.entries[key] = one
        found = store.get(task.name, task.root)
        assert found is None or isinstance(found, Checked)


def test_unchanged_lessons_are_not_checked(task: Task, monkeypatch: pytest.MonkeyPatch) -> None:
    """In the order of the tasks, with those that have changed."""
    other = Task(str(Path(task.root, "other.lesson")), task.root)
    Path(other.name).write_text('lesson "Other"\n')
    tasks = [other, task, Task(str(Path(task.root, "shared.lesson")), task.root)]
    store = _opened(task)
    before = list(check_all(tasks, 1, store=store))
    store.save()
    Path(other.name).write_text('lesson "Another"\n')
    asked: list[str] = []

    def check(one: Task) -> Checked:
        asked.append(one.name)
        return check_one(one)

    monkeypatch.setattr("fretloom.collection.checking.check_one", check)
    after = list(check_all(tasks, 1, store=_opened(task)))
    assert asked == [other.name]
    assert after[1:] == before[1:]


def test_a_text_of_its_own_is_neither_kept_nor_looked_up(task: Task) -> None:
    _kept(task)
    store = _opened(task)
    (found,) = check_all([Task(task.name, task.root, 'lesson "Tea"\n')], 1, store=store)
    assert found.texts[0].text == 'lesson "Tea"\n'
    assert not store.changed


def test_a_folder_that_cannot_be_made_is_told(task: Task) -> None:
    store = Store(Path(task.name, "kept"), task.root)
    store.put(check_one(task), task.root)
    assert "tea.lesson" in store.save()


def test_two_runs_at_once_do_no_harm(task: Task) -> None:
    """The later one stays, whole."""
    one, other = _opened(task), _opened(task)
    one.put(check_one(task), task.root)
    shared = Task(str(Path(task.root, "shared.lesson")), task.root)
    other.put(check_one(shared), task.root)
    assert (one.save(), other.save()) == ("", "")
    assert _opened(task).get(shared.name, task.root) == check_one(shared)
    assert list(one.file.parent.iterdir()) == [one.file]
    assert json.loads(one.file.read_text())["maker"] == one.maker


def test_the_usual_folder_is_that_of_the_system(monkeypatch: pytest.MonkeyPatch) -> None:
    """XDG Base Directory Specification 0.8 (relative paths are to be ignored); the others from memory."""
    monkeypatch.setattr("sys.platform", "linux")
    assert default_folder({"XDG_CACHE_HOME": "/c", "HOME": "/h"}) == Path("/c/fretloom")
    assert default_folder({"XDG_CACHE_HOME": "c", "HOME": "/h"}) == Path("/h/.cache/fretloom")
    assert default_folder({}) is None
    monkeypatch.setattr("sys.platform", "darwin")
    assert default_folder({"HOME": "/h"}) == Path("/h/Library/Caches/fretloom")
    monkeypatch.setattr("sys.platform", "win32")
    assert default_folder({"LOCALAPPDATA": "/l"}) == Path("/l/fretloom")
    assert default_folder({"HOME": "/h"}) is None
