"""A file that many lessons of a folder name is read once for all of them, and again when it has changed."""

from __future__ import annotations

from pathlib import Path

import pytest

from fretloom.api import check, dumps, load
from fretloom.notation import linking
from fretloom.notation.model.lesson import Lesson
from fretloom.notation.syntax.read import read
from fretloom.source import Source

SHARED = "voicings\n  C  x32010\n"
LESSON = 'use "shared.lesson"\n\nlesson "{name}"\n\nsection tune\n  C {{ p , p , p , p }}\n'


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The texts of named files that are really read."""
    texts: list[str] = []

    def reading(source: Source) -> Lesson:
        texts.append(source.text)
        return read(source)

    monkeypatch.setattr(linking, "read", reading)
    linking._read_once.cache_clear()
    return texts


def _lesson(folder: Path, name: str) -> Lesson:
    (folder / f"{name}.lesson").write_text(LESSON.format(name=name))
    return load(folder / f"{name}.lesson")


def test_a_shared_file_is_read_once(tmp_path: Path, asked: list[str]) -> None:
    (tmp_path / "shared.lesson").write_text(SHARED)
    one, other = _lesson(tmp_path, "one"), _lesson(tmp_path, "two")
    assert asked == [SHARED]
    assert check(one) == check(other) == []
    assert dumps(one) != dumps(other)


def test_a_changed_file_is_read_again(tmp_path: Path, asked: list[str]) -> None:
    (tmp_path / "shared.lesson").write_text(SHARED)
    _lesson(tmp_path, "one")
    changed = SHARED.replace("x32010", "x3201)")
    (tmp_path / "shared.lesson").write_text(changed)
    assert [found.rule for found in check(_lesson(tmp_path, "two"))] == ["linked-file-faulty"]
    assert asked == [SHARED, changed]


def test_what_it_names_itself_is_looked_up_each_time(tmp_path: Path, asked: list[str]) -> None:
    """Only its own text is kept as it was read, not the files behind it."""
    (tmp_path / "shared.lesson").write_text('use "more.lesson"\n' + SHARED)
    (tmp_path / "more.lesson").write_text("voicings\n  G  320003\n")
    assert check(_lesson(tmp_path, "one")) == []
    (tmp_path / "more.lesson").unlink()
    assert [found.rule for found in check(_lesson(tmp_path, "two"))] == ["linked-file-faulty"]
    assert len(asked) == 2


def test_long_files_are_not_kept(tmp_path: Path, asked: list[str]) -> None:
    """So that what is kept has a bound."""
    (tmp_path / "shared.lesson").write_text(SHARED + "# long\n" * 4_000)
    _lesson(tmp_path, "one")
    _lesson(tmp_path, "two")
    assert len(asked) == 2
