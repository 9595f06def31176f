"""Files that name very many others: each is read once, and no more of them than the limits allow."""

from __future__ import annotations

from pathlib import Path

import pytest

from fretloom.diagnostics import Diagnostic
from fretloom.limits import LIMITS
from fretloom.notation import linking
from fretloom.notation.loading import load_lesson
from fretloom.notation.model.lesson import Lesson
from fretloom.source import Source
from fretloom.values import evolve

SMALL = "voicings\n  C.v{}  x32010\n"


@pytest.fixture
def reads(monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    """Return the files that are read while a lesson is linked, one by one."""
    seen: list[Path] = []
    read_text = linking.read_text

    def counting(path: Path) -> str:
        seen.append(path)
        return read_text(path)

    monkeypatch.setattr(linking, "read_text", counting)
    return seen


def write(folder: Path, files: dict[str, str]) -> None:
    """Write lessons by name."""
    for name, text in files.items():
        (folder / f"{name}.lesson").write_text(text, encoding="utf-8")


def uses(names: list[str]) -> str:
    """Return a line `use` for each name."""
    return "".join(f'use "{name}.lesson"\n' for name in names)


def faults(lesson: Lesson) -> list[Diagnostic]:
    """Return the faults of a lesson and of those it names."""
    linked = {id_of(one): one for one in lesson.linked.values()}
    return [*lesson.faults, *(fault for one in linked.values() for fault in one.faults)]


def id_of(lesson: Lesson) -> Source | None:
    """Return what tells lessons apart that were read from files."""
    return lesson.source


def test_a_star_of_thousands_of_files(tmp_path: Path, reads: list[Path]) -> None:
    """The first line beyond the limit is one fault, and nothing more is read."""
    names = [f"f{number}" for number in range(3_000)]
    write(tmp_path, {name: SMALL.format(at) for at, name in enumerate(names)})
    write(tmp_path, {"star": uses(names)})
    lesson = load_lesson(tmp_path / "star.lesson")
    assert len(reads) == LIMITS.files
    (fault,) = lesson.faults
    assert (fault.rule, fault.span.line) == ("file-not-found", LIMITS.files + 1)
    assert str(LIMITS.files) in fault.message
    assert len(lesson.linked) == LIMITS.files


def test_as_many_files_as_may_be(tmp_path: Path) -> None:
    """At the limit nothing is wrong, and a file that is named again does not count again."""
    names = [f"f{number}" for number in range(LIMITS.files)]
    write(tmp_path, {name: SMALL.format(at) for at, name in enumerate(names)})
    write(tmp_path, {"star": uses(names * 2)})
    assert load_lesson(tmp_path / "star.lesson").faults == ()


def test_a_chain_beside_a_star_counts_all_files(tmp_path: Path, reads: list[Path]) -> None:
    """Files that are named by named files count as well; the one fault stands where the limit is met."""
    half = LIMITS.files // 2
    names = [f"f{number}" for number in range(half)]
    write(tmp_path, {name: uses([f"g{at}"]) for at, name in enumerate(names)})
    write(tmp_path, {f"g{at}": SMALL.format(at) for at in range(half)})
    write(tmp_path, {"h": SMALL.format("h"), "i": SMALL.format("i")})
    write(tmp_path, {"within": uses(names), "beyond": uses([*names, "h", "i"])})
    assert faults(load_lesson(tmp_path / "within.lesson")) == []
    reads.clear()
    assert [one.span.line for one in faults(load_lesson(tmp_path / "beyond.lesson"))] == [half + 1]
    assert len(reads) == LIMITS.files


def test_a_diamond_is_read_once(tmp_path: Path, reads: list[Path]) -> None:
    """Ten levels of ten files, each naming all of the next level, are a hundred files and not ten thousand million."""
    for level in range(10):
        below = uses([f"f{level + 1}-{at}" for at in range(10)]) if level < 9 else ""
        write(tmp_path, {f"f{level}-{at}": below + SMALL.format(at) for at in range(10)})
    write(tmp_path, {"top": uses([f"f0-{at}" for at in range(10)])})
    assert load_lesson(tmp_path / "top.lesson").faults == ()
    assert len(reads) == 100


def test_files_have_a_limit_together(
    tmp_path: Path, reads: list[Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each file is within the limit of a lesson, and no more are read once they are beyond it together."""
    big = "# c\n" * 200 + SMALL.format(0)
    monkeypatch.setattr(linking, "LIMITS", evolve(LIMITS, characters=2 * len(big) - 1))
    write(tmp_path, {"a": big, "b": big, "c": SMALL.format(1), "d": SMALL.format(2)})
    write(tmp_path, {"star": uses(["a", "b", "c", "d"]), "fewer": uses(["a", "c", "d"])})
    assert load_lesson(tmp_path / "fewer.lesson").faults == ()
    reads.clear()
    lesson = load_lesson(tmp_path / "star.lesson")
    assert [one.span.line for one in lesson.faults] == [3]
    assert [path.stem for path in reads] == ["a", "b"]


def test_a_folder_of_thousands_is_looked_into_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Thousands of missing files beside thousands of others: listed once, and compared a hundred times."""
    write(tmp_path, {f"voicing{number}": "" for number in range(2_000)})
    missing = [f"voicng{number}" for number in range(1_500)] + ["é" * 3] * 500
    write(tmp_path, {"star": uses(missing)})
    listed: list[Path] = []
    scandir = linking.os.scandir

    def counting(folder: Path) -> object:
        listed.append(folder)
        return scandir(folder)

    monkeypatch.setattr(linking.os, "scandir", counting)
    found = load_lesson(tmp_path / "star.lesson").faults
    assert len(listed) == 1
    assert sum("did you mean" in one.hint for one in found) == LIMITS.hinted
    assert found[0].hint.startswith('did you mean "voicing')


def test_what_cannot_be_read_is_tried_once(tmp_path: Path, reads: list[Path]) -> None:
    """A file that is no text, named by thousands of lines."""
    (tmp_path / "bad.lesson").write_bytes(b"\xff" * 1_000)
    write(tmp_path, {"star": uses(["bad"] * 90)})
    assert len(load_lesson(tmp_path / "star.lesson").faults) == 90
    assert [path.stem for path in reads].count("bad") == 1
