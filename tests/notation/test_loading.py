"""Lessons that name other files: where those may lie, and what is said when they are not in order."""

from __future__ import annotations

from pathlib import Path

import pytest

from fretloom.api import check, link, load, loads
from fretloom.diagnostics import Diagnostic
from fretloom.errors import FretloomError, LessonUnreadable
from fretloom.limits import LIMITS

LESSON = """lesson "Two cups"
  meter 4/4

use "{}"

patterns
  plain  p , p m , p i , p m

section tune  using plain
  C | C
"""
VOICINGS = "voicings\n  C  x32010  fingers .32.1.  bass 5 4 5 4\n"


def _lesson(folder: Path, path: str = "open.lesson") -> Path:
    file = folder / "tune.lesson"
    file.write_text(LESSON.format(path))
    return file


def _only(found: list[Diagnostic]) -> Diagnostic:
    (one,) = found
    return one


def test_used_voicings_are_there(tmp_path: Path) -> None:
    """A lesson takes voicings from a file that it uses, relative to itself."""
    (tmp_path / "voicings").mkdir()
    (tmp_path / "voicings" / "open.lesson").write_text(VOICINGS)
    assert check(load(_lesson(tmp_path, "voicings/open.lesson"))) == []


def test_file_named_twice_is_the_same_lesson(tmp_path: Path) -> None:
    """A file reached on two ways is read once."""
    (tmp_path / "open.lesson").write_text(VOICINGS)
    (tmp_path / "more.lesson").write_text('use "open.lesson"\n')
    file = _lesson(tmp_path)
    file.write_text('use "more.lesson"\n' + file.read_text())
    lesson = load(file)
    assert lesson.linked["open.lesson"] is lesson.linked["more.lesson"].linked["open.lesson"]
    assert check(lesson) == []


def test_missing_file_is_one_fault_with_the_nearest_name(tmp_path: Path) -> None:
    """What the missing file would have defined is not reported as well."""
    (tmp_path / "open.lesson").write_text(VOICINGS)
    found = _only(check(load(_lesson(tmp_path, "opne.lesson"))))
    assert (found.rule, found.span.line, found.span.column) == ("file-not-found", 4, 5)
    assert found.hint == 'did you mean "open.lesson"?'


@pytest.mark.parametrize("path", ["../open.lesson", "{root}/open.lesson", "sub/../../open.lesson"])
def test_file_outside_the_collection_is_not_read(path: str, tmp_path: Path) -> None:
    """Neither dots nor an absolute path lead out of the root folder."""
    (tmp_path / "open.lesson").write_text(VOICINGS)
    inside = tmp_path / "inside"
    (inside / "sub").mkdir(parents=True)
    found = _only(check(load(_lesson(inside, path.format(root=tmp_path)))))
    assert found.rule == "outside-the-collection"


def test_larger_root_reaches_both_files(tmp_path: Path) -> None:
    """With a root above both files the same path is allowed."""
    (tmp_path / "open.lesson").write_text(VOICINGS)
    (tmp_path / "inside").mkdir()
    assert check(load(_lesson(tmp_path / "inside", "../open.lesson"), root=tmp_path)) == []


def test_link_out_of_the_collection_is_not_followed(tmp_path: Path) -> None:
    """A symbolic link inside that leads outside is outside."""
    (tmp_path / "secret.txt").write_text("root password\n")
    inside = tmp_path / "inside"
    inside.mkdir()
    (inside / "open.lesson").symlink_to(tmp_path / "secret.txt")
    found = _only(check(load(_lesson(inside))))
    assert found.rule == "outside-the-collection"
    assert "password" not in found.message


def test_circle_is_one_fault_naming_the_files(tmp_path: Path) -> None:
    """Two files that name each other are one fault, and it names both (yaml/yaml-spec#45)."""
    (tmp_path / "open.lesson").write_text('use "tune.lesson"\n' + VOICINGS)
    found = _only(check(load(_lesson(tmp_path))))
    assert found.rule == "use-cycle"
    assert "tune.lesson → open.lesson → tune.lesson" in found.message


def test_file_that_names_itself(tmp_path: Path) -> None:
    """The shortest circle."""
    found = _only(check(load(_lesson(tmp_path, "tune.lesson"))))
    assert (found.rule, found.message) == ("use-cycle", "tune.lesson names itself")


def test_long_row_of_files_is_refused(tmp_path: Path) -> None:
    """Files that each name the next are followed only so far."""
    for number in range(60):
        text = f'use "{number + 1}.lesson"\n' + VOICINGS
        (tmp_path / f"{number}.lesson").write_text(text)
    found = check(load(_lesson(tmp_path, "0.lesson")))
    assert ["a chain of more than 20 files" in one.message for one in found] == [True]


def test_faults_of_a_named_file_are_reported_once_where_it_is_named(tmp_path: Path) -> None:
    """The line that names a faulty file says so, with the first of its faults."""
    (tmp_path / "open.lesson").write_text(VOICINGS + "  G  3200\n  D  xx02\n")
    found = check(load(_lesson(tmp_path)))
    named = [one for one in found if one.rule == "linked-file-faulty"]
    assert len(named) <= 1
    assert all(one.span.source.name.endswith(("tune.lesson", "open.lesson")) for one in found)


@pytest.mark.parametrize(
    ("data", "said"),
    [("é".encode("latin-1"), "not saved as UTF-8"), (b"\x00\x01\x02", "not a text file")],
)
def test_named_file_that_is_no_text(data: bytes, said: str, tmp_path: Path) -> None:
    """A file that is named but is not text is a fault of the line that names it."""
    (tmp_path / "open.lesson").write_bytes(data)
    found = _only(check(load(_lesson(tmp_path))))
    assert found.rule == "file-not-found"
    assert said in found.message
    assert str(tmp_path) not in found.message


def test_folder_instead_of_a_file(tmp_path: Path) -> None:
    """A folder cannot be used."""
    (tmp_path / "open.lesson").mkdir()
    assert "is a folder" in _only(check(load(_lesson(tmp_path)))).message


def test_text_without_a_folder_cannot_name_files() -> None:
    """A text in memory has no folder; with a root it has one."""
    assert _only(check(loads(LESSON.format("open.lesson")))).rule == "file-not-found"


def test_text_with_a_root(tmp_path: Path) -> None:
    """A text in memory finds files below the root it is given."""
    (tmp_path / "open.lesson").write_text(VOICINGS)
    assert check(loads(LESSON.format("open.lesson"), root=tmp_path)) == []


def test_link_that_leads_in_circles(tmp_path: Path) -> None:
    """A symbolic link to itself is not a file."""
    (tmp_path / "open.lesson").symlink_to("open.lesson")
    assert _only(check(load(_lesson(tmp_path)))).rule in (
        "file-not-found",
        "outside-the-collection",
    )


def test_text_that_is_not_saved_yet_finds_files_as_its_file_would(tmp_path: Path) -> None:
    """`path` says where the text belongs; the file itself need not be there."""
    (tmp_path / "sub").mkdir()
    (tmp_path / "open.lesson").write_text(VOICINGS)
    path = tmp_path / "sub" / "new.lesson"
    assert check(loads(LESSON.format("../open.lesson"), path=path, root=tmp_path)) == []
    outside = _only(check(loads(LESSON.format("../open.lesson"), path=path)))
    assert (outside.rule, outside.span.source.name) == ("outside-the-collection", str(path))
    itself = _only(check(loads(LESSON.format("new.lesson"), path=path)))
    assert (itself.rule, itself.message) == ("use-cycle", "new.lesson names itself")


def test_texts_stand_in_place_of_files_that_are_there_or_not(tmp_path: Path) -> None:
    """An editor has not saved them yet; whatever the way to them, they are found by their place."""
    lesson = LESSON.format("voicings/open.lesson")
    (tmp_path / "voicings").mkdir()
    path, other = (
        tmp_path / "tune.lesson",
        tmp_path / "voicings" / ".." / "voicings" / "open.lesson",
    )
    assert check(loads(lesson, path=path, texts={str(other): "\ufeff" + VOICINGS})) == []
    other.write_text("voicings\n  C  nothing\n")
    assert check(loads(lesson, path=path, texts={other: VOICINGS})) == []
    assert _only(check(loads(lesson, path=path))).rule == "linked-file-faulty"
    with pytest.raises(TypeError, match="a path of texts is a str or a Path, not int"):
        loads(lesson, path=path, texts={1: VOICINGS})  # type: ignore[dict-item]
    with pytest.raises(TypeError, match="text is a str, not bytes"):
        loads(lesson, path=path, texts={path: b""})  # type: ignore[dict-item]


def test_text_is_refused_before_it_is_read_if_it_is_too_large() -> None:
    """The limit of a file holds for a text; at the limit it is read."""
    assert loads("#" * LIMITS.characters).tail
    with pytest.raises(LessonUnreadable, match=r"<text> is too large .* 2,000,000 characters"):
        loads("#" * (LIMITS.characters + 1))


def test_half_a_character_is_refused_with_its_line() -> None:
    """No file can hold it, so no lesson made of it could be saved."""
    with pytest.raises(LessonUnreadable, match=r"a\.lesson holds half of a character on line 2"):
        loads('lesson "Air"\n  by "\ud83c"\n', path="a.lesson")


@pytest.mark.parametrize("text", [b"lesson", bytearray(b"lesson"), None, 7, Path("a.lesson")])
def test_what_is_not_a_text_is_named(text: object) -> None:
    """The message names the argument, and says what to do with bytes."""
    with pytest.raises(TypeError, match=f"^text is a str, not {type(text).__name__}") as caught:
        loads(text)  # type: ignore[arg-type]
    assert ("decode" in str(caught.value)) is isinstance(text, bytes | bytearray)


@pytest.mark.parametrize("name", ["path", "root"])
@pytest.mark.parametrize("given", [7, b"a.lesson"])
def test_what_is_not_a_path_is_named(name: str, given: object) -> None:
    """So are the places."""
    with pytest.raises(TypeError, match=f"^{name} is a str or a Path, not {type(given).__name__}$"):
        loads('lesson "Air"\n', **{name: given})  # type: ignore[arg-type]


def test_root_that_is_not_a_folder_is_an_error_that_names_it(tmp_path: Path) -> None:
    """A missing root, an empty one and a file are refused, whoever takes a root."""
    file = _lesson(tmp_path)
    lesson = loads('lesson "Air"\n')
    takers = (lambda root: load(file, root=root), lambda root: loads("", root=root), lambda root: link(lesson, root=root))  # fmt: skip
    for take in takers:
        for root, said in ((tmp_path / "no", "no folder"), ("", "empty"), (file, "is a file"), ("\0", "no folder")):  # fmt: skip
            with pytest.raises(FretloomError, match=f"^root.*{said}"):
                take(root)


def test_a_lesson_is_linked_again(tmp_path: Path) -> None:
    """What was missing is found, what is gone is missing; the text and its other faults stay."""
    text = LESSON.format("open.lesson") + "  ((\n"
    lesson = loads(text)
    assert [one.rule for one in lesson.faults] == ["unclosed-bracket", "file-not-found"]
    (tmp_path / "open.lesson").write_text(VOICINGS)
    linked = link(lesson, path=tmp_path / "a.lesson")
    assert [one.rule for one in linked.faults] == ["unclosed-bracket"]
    assert linked.source is lesson.source
    assert list(linked.linked) == ["open.lesson"]
    (tmp_path / "open.lesson").unlink()
    assert [one.rule for one in link(linked, root=tmp_path).faults] == ["unclosed-bracket", "file-not-found"]  # fmt: skip
    with pytest.raises(FretloomError, match="link needs a path"):
        link(lesson)
